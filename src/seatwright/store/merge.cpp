#include "seatwright/store/merge.hpp"

#include <fmt/format.h>

#include "seatwright/job/writer.hpp"
#include "seatwright/store/toml_json.hpp"

namespace seatwright::store {

namespace {

// The shortest text that reads back to the same number; a unit makes it a string.
std::string toml_value(const Json& value, const std::string& unit) {
    if (value.is_array()) {
        std::string out;
        for (const auto& one : value) out += (out.empty() ? "" : ", ") + toml_value(one, unit);
        return "[" + out + "]";
    }
    if (unit.empty()) return toml_literal(value);
    if (value.is_number()) return fmt::format("\"{} {}\"", toml_literal(value), unit);
    if (!value.is_string() || names_unit(value.get<std::string>())) return toml_literal(value);
    return job::toml_string(value.get<std::string>() + " " + unit);
}

std::string text_of(const ReadingTable& table) {
    std::string out = fmt::format("\n[[reading.{}]]\nhead = {}\nvalve = {}\n", name_of(table.kind),
                                  job::toml_string(table.head), job::toml_string(table.valve));
    for (const auto& field : table.fields)
        out += fmt::format("{} = {}\n", field.key, toml_value(field.value, field.unit));
    return out;
}

}  // namespace

std::string readings_toml(std::span<const Entry> entries, const Resolution& resolution, LengthUnit document) {
    std::string out;
    for (const auto& table : reading_tables(entries, resolution, document)) out += text_of(table);
    return out;
}

std::string merged(const std::string& document, const std::string& readings) {
    if (readings.empty()) return document;
    // One blank line between the two, whether the document ends in one or not: an export imported and
    // exported again must not grow.
    if (document.ends_with("\n\n")) return document + readings.substr(readings.find_first_not_of('\n'));
    return document + (document.ends_with('\n') ? "" : "\n") + readings;
}

}  // namespace seatwright::store
