#include "seatwright/store/merge.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <map>
#include <set>

namespace seatwright::store {

namespace {

const std::set<std::string> word_keys{"by", "across"};
const std::set<std::string> length_keys{"x",       "y",       "sd",     "top",         "middle",
                                        "bottom",  "trace",   "runout", "stem_height", "recession",
                                        "cleanup", "section", "width",  "gauge_u"};

// A decimal string a person typed, as a number; nothing when it carries a unit or is not a number.
std::optional<double> bare_number(const std::string& text) {
    double value = 0;
    const char* end = text.data() + text.size();
    const auto [stop, fault] = std::from_chars(text.data(), end, value);
    if (fault != std::errc{} || stop != end || !std::isfinite(value)) return std::nullopt;
    return value;
}

// Numbers for bare decimal strings, through arrays.
Json plain(const std::string& key, const Json& value) {
    if (word_keys.count(key) > 0) return value;
    if (value.is_string()) {
        const auto number = bare_number(value.get<std::string>());
        return number ? Json(*number) : value;
    }
    if (!value.is_array()) return value;
    Json all = Json::array();
    for (const auto& one : value) all.push_back(plain(key, one));
    return all;
}

std::string toml_string(const std::string& text) {
    std::string out = "\"";
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        if (c == '"' || c == '\\')
            out += {'\\', c};
        else if (byte < 0x20 || byte == 0x7F)
            out += fmt::format("\\u{:04X}", byte);
        else
            out += c;
    }
    return out + "\"";
}

// The shortest text that reads back to the same number; a unit makes it a string.
std::string toml_value(const Json& value, const std::string& unit) {
    if (value.is_array()) {
        std::string out;
        for (const auto& one : value) out += (out.empty() ? "" : ", ") + toml_value(one, unit);
        return "[" + out + "]";
    }
    if (value.is_number()) {
        std::string number = value.is_number_integer() ? fmt::format("{}", value.get<long long>())
                                                       : fmt::format("{}", value.get<double>());
        return unit.empty() ? number : fmt::format("\"{} {}\"", number, unit);
    }
    if (value.is_boolean()) return value.get<bool>() ? "true" : "false";
    return toml_string(value.is_string() ? value.get<std::string>() : value.dump());
}

std::string unit_of(const NewEntry& entry, LengthUnit document, const std::string& key) {
    if (entry.units == document || length_keys.count(key) == 0) return "";
    return entry.units == LengthUnit::inch ? "in" : "mm";
}

std::string line_of(const NewEntry& entry, LengthUnit document, const std::string& key) {
    const Json value = plain(key, entry.values.at(key));
    return fmt::format("{} = {}\n", key, toml_value(value, unit_of(entry, document, key)));
}

std::string heading(const NewEntry& entry) {
    return fmt::format("\n[[reading.{}]]\nhead = {}\nvalve = {}\n", name_of(entry.kind),
                       toml_string(entry.head), toml_string(entry.valve));
}

bool imported(const NewEntry& entry) {
    return entry.client_key.starts_with("import:");
}

// The keys of one entry's quantity, attributes that belong to it included.
std::vector<std::string> keys_of(const NewEntry& entry, const std::string& quantity) {
    std::vector<std::string> keys;
    const bool whole = quantity == name_of(entry.kind);
    for (const auto& [key, value] : entry.values.items())
        if (whole || key == quantity || (quantity == "trace" && key == "angles")) keys.push_back(key);
    return keys;
}

// Entries that may share a table: of one seat or one proof of one head.
struct Shared {
    std::vector<std::string> lines;
    std::set<std::string> written;
    const NewEntry* first = nullptr;

    void add(const Entry& entry, LengthUnit document, const std::string& key) {
        if (entry.values.contains(key) && written.insert(key).second)
            lines.push_back(line_of(entry, document, key));
    }
    std::string text() const {
        std::string out = heading(*first);
        for (const auto& line : lines) out += line;
        return out;
    }
};

void add_used(Shared& table, const Entry& entry, const Standing& standing, LengthUnit document) {
    if (table.first == nullptr) table.first = &entry;
    for (const auto& quantity : standing.used)
        for (const auto& key : keys_of(entry, quantity)) table.add(entry, document, key);
    if (entry.kind != EntryKind::proof) return;
    table.add(entry, document, "gauge_u");
    table.add(entry, document, "by");
    if (!imported(entry) && table.written.insert("by").second)
        table.lines.push_back(fmt::format("by = {}\n", toml_string(entry.by)));
}

}  // namespace

std::string reading_toml(const NewEntry& entry, LengthUnit document) {
    std::string out = heading(entry);
    for (const auto& [key, value] : entry.values.items()) out += line_of(entry, document, key);
    return out;
}

std::string readings_toml(const std::vector<Entry>& entries, const Resolution& resolution,
                          LengthUnit document) {
    // Tables in the order in which their first entry was recorded.
    std::vector<Shared> tables;
    std::map<std::string, std::size_t> shared;
    for (std::size_t i = 0; i < entries.size(); ++i) {
        const Entry& entry = entries[i];
        const Standing& standing = resolution.standing[i];
        if (!is_reading(entry.kind) || standing.used.empty()) continue;
        const bool alone = entry.repeat || entry.kind < EntryKind::seat;
        std::size_t table = tables.size();
        if (!alone) table = shared.try_emplace(place_of(entry), tables.size()).first->second;
        if (table == tables.size()) tables.emplace_back();
        add_used(tables[table], entry, standing, document);
    }
    std::string out;
    for (const auto& table : tables) out += table.text();
    return out;
}

std::string merged(const std::string& document, const std::string& readings) {
    if (readings.empty()) return document;
    return document + (document.ends_with('\n') ? "" : "\n") + readings;
}

bool same_quantity(const NewEntry& a, const NewEntry& b, const std::string& quantity) {
    const auto keys = keys_of(a, quantity);
    auto sorted = keys, others = keys_of(b, quantity);
    std::sort(sorted.begin(), sorted.end());
    std::sort(others.begin(), others.end());
    if (sorted != others) return false;
    return std::all_of(keys.begin(), keys.end(), [&](const std::string& key) {
        // Written out in one common unit system: the same text is the same value.
        return line_of(a, LengthUnit::mm, key) == line_of(b, LengthUnit::mm, key);
    });
}

}  // namespace seatwright::store
