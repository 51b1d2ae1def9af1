#include "seatwright/store/split.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>

#include "seatwright/store/live.hpp"
#include "seatwright/store/merge.hpp"
#include "seatwright/store/toml_json.hpp"
#include "seatwright/store/toml_lines.hpp"

namespace seatwright::store {

namespace {

constexpr std::array reading_kinds{EntryKind::touch, EntryKind::level, EntryKind::guide,
                                   EntryKind::seat,  EntryKind::first, EntryKind::proof};

bool belongs_to_readings(const TomlLine& line) {
    if (line.section == "reading") return true;
    return line.section.empty() && line.kind == LineKind::statement && line.first_key == "reading";
}

std::string without_readings(const std::string& text) {
    std::string kept;
    for (const auto& line : toml_lines(text)) {
        const bool comment = line.kind == LineKind::other && line.text.find('#') != std::string_view::npos;
        if (!belongs_to_readings(line) || comment) kept += line.text;
    }
    return kept;
}

// A label may be written as a text or as a whole number.
std::string label(const Json& values, const std::string& key, const std::string& fallback) {
    const auto found = values.find(key);
    if (found == values.end()) return fallback;
    return found->is_string() ? found->get<std::string>() : found->dump();
}

NewEntry entry_of(EntryKind kind, const toml::table& table, LengthUnit units) {
    NewEntry entry;
    entry.kind = kind;
    entry.units = units;
    entry.values = json_of(table);
    entry.head = label(entry.values, "head", "1");
    entry.valve = label(entry.values, "valve", "");
    entry.values.erase("head");
    entry.values.erase("valve");
    return entry;
}

// Where a table stands in the file, so that the kinds come out in the order they were written.
struct Placed {
    unsigned line = 0, column = 0;
    NewEntry entry;
};

std::vector<Placed> tables_of(const toml::table& readings, LengthUnit units) {
    std::vector<Placed> all;
    for (const EntryKind kind : reading_kinds) {
        const auto* list = readings[name_of(kind)].as_array();
        if (list == nullptr) continue;
        for (const auto& node : *list)
            if (const auto* table = node.as_table())
                all.push_back({static_cast<unsigned>(table->source().begin.line),
                               static_cast<unsigned>(table->source().begin.column),
                               entry_of(kind, *table, units)});
    }
    std::stable_sort(all.begin(), all.end(), [](const Placed& a, const Placed& b) {
        return std::pair(a.line, a.column) < std::pair(b.line, b.column);
    });
    return all;
}

}  // namespace

Answer<Split> split_readings(const std::string& text, LengthUnit units) {
    auto whole = parse_toml(text);
    if (!whole) return refuse(Why::bad, "the text is not TOML");
    Split split{text, {}};
    const auto* readings = (*whole)["reading"].as_table();
    if (readings == nullptr) return split;
    std::set<std::string> seen;
    for (auto& placed : tables_of(*readings, units)) {
        placed.entry.client_key = fmt::format("{}{}", import_mark, split.readings.size() + 1);
        placed.entry.repeat = !seen.insert(place_of(placed.entry)).second;
        split.readings.push_back(std::move(placed.entry));
    }
    split.document = without_readings(text);
    whole->erase("reading");
    const auto rest = parse_toml(split.document);
    if (!rest || *rest != *whole)
        return refuse(Why::bad,
                      "the readings could not be told apart from the rest of the file; write them as "
                      "[[reading.touch]] tables at its end");
    return split;
}

bool has_readings(const std::string& text) {
    const auto whole = parse_toml(text);
    return whole && whole->contains("reading");
}

}  // namespace seatwright::store
