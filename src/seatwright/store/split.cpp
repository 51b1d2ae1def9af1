#include "seatwright/store/split.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>

#include "seatwright/job/text.hpp"
#include "seatwright/store/live.hpp"
#include "seatwright/store/merge.hpp"
#include "seatwright/store/toml_json.hpp"
#include "seatwright/toml/compare.hpp"

namespace seatwright::store {

namespace {

constexpr std::string_view readings_key = "reading";
constexpr std::array reading_kinds{EntryKind::touch, EntryKind::level, EntryKind::guide,
                                   EntryKind::seat,  EntryKind::first, EntryKind::proof};

// Comments among readings stay; everything else of them goes, line by line.
std::string comments_of(const toml::Document& document, const toml::Section& section) {
    const std::string_view text = document.text();
    const auto statements = document.statements(section);
    auto next = statements.begin();
    std::string kept;
    for (std::size_t at = document.line_around(section.span.begin).end; at < section.span.end;) {
        const bool is_statement = next != statements.end() && next->span.begin < document.line_around(at).end;
        const std::size_t last = is_statement ? (next++)->span.end - 1 : at;
        const std::size_t end = document.line_around(last).end;
        const auto lines = text.substr(at, end - at);
        if (!is_statement && lines.find('#') != std::string_view::npos) kept += lines;
        at = end;
    }
    return kept;
}

// Readings may be written under keys before the first header too.
std::string without_reading_keys(const toml::Document& document, const toml::Section& section) {
    const std::string_view text = document.text();
    std::string kept;
    std::size_t at = section.span.begin;
    for (const auto& statement : document.statements(section)) {
        if (statement.first != readings_key) continue;
        const std::size_t begin = document.line_around(statement.span.begin).begin;
        kept += text.substr(at, begin - at);
        at = document.line_around(statement.span.end - 1).end;
    }
    kept += text.substr(at, section.span.end - at);
    return kept;
}

std::string without_readings(const toml::Document& document) {
    std::string kept;
    for (const auto& section : document.sections()) {
        if (section.path.empty())
            kept += without_reading_keys(document, section);
        else if (section.path.front() == readings_key)
            kept += comments_of(document, section);
        else
            kept += document.text().substr(section.span.begin, section.span.end - section.span.begin);
    }
    return kept;
}

// A label may be written as a text or as a whole number.
std::string label(const Json& values, const std::string& key, const std::string& fallback) {
    const auto found = values.find(key);
    if (found == values.end()) return fallback;
    return found->is_string() ? found->get<std::string>() : found->dump();
}

NewEntry entry_in_table(EntryKind kind, const toml::Value& table, LengthUnit units) {
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
    std::size_t at = 0;
    NewEntry entry;
};

std::vector<Placed> placed_readings(const toml::Value& readings, LengthUnit units) {
    std::vector<Placed> all;
    const auto add = [&](EntryKind kind, const toml::Value& table) {
        if (table.kind() == toml::Kind::table)
            all.push_back({table.span().begin, entry_in_table(kind, table, units)});
    };
    for (const EntryKind kind : reading_kinds) {
        // One reading may be a table by itself.
        const toml::Value list = readings.find(name_of(kind));
        add(kind, list);
        if (list.kind() == toml::Kind::list)
            for (const auto& table : list.items()) add(kind, table);
    }
    std::sort(all.begin(), all.end(), [](const Placed& a, const Placed& b) { return a.at < b.at; });
    return all;
}

}  // namespace

Answer<Split> split_readings(const std::string& text, LengthUnit units) {
    const auto whole = job::read_text(text);
    if (!whole.is_good()) return refuse(Why::bad, "the text is not TOML");
    Split split{text, {}};
    const toml::Value readings = whole.root().find(readings_key);
    if (readings.kind() != toml::Kind::table) return split;
    std::set<std::string> seen;
    for (auto& placed : placed_readings(readings, units)) {
        placed.entry.client_key = fmt::format("{}{}", import_mark, split.readings.size() + 1);
        placed.entry.repeat = !seen.insert(place_of(placed.entry)).second;
        split.readings.push_back(std::move(placed.entry));
    }
    split.document = without_readings(whole);
    const auto rest = job::read_text(split.document);
    const toml::Difference without{{{std::string(readings_key), {}}}, toml::Difference::How::removed, {}};
    if (!rest.is_good() || !toml::differs_by(whole.root(), rest.root(), without))
        return refuse(Why::bad,
                      "the readings could not be told apart from the rest of the file; write them as "
                      "[[reading.touch]] tables at its end");
    return split;
}

bool has_readings(const std::string& text) {
    const auto whole = job::read_text(text);
    return whole.is_good() && whole.root().find(readings_key);
}

}  // namespace seatwright::store
