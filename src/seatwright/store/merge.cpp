#include "seatwright/store/merge.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>
#include <optional>
#include <set>

#include "seatwright/base/units.hpp"
#include "seatwright/job/keys.hpp"
#include "seatwright/job/quantity.hpp"
#include "seatwright/job/writer.hpp"
#include "seatwright/store/database.hpp"
#include "seatwright/store/toml_json.hpp"

namespace seatwright::store {

namespace {

// The row of the table of keys for one key of a reading; null for a key the reader will refuse.
const job::Key* key_of(const NewEntry& entry, const std::string& key) {
    static const auto table = [] {
        std::map<std::string, const job::Key*> all;
        for (const auto& row : job::reading_keys()) all.emplace(row.path, &row);
        return all;
    }();
    const auto found = table.find(fmt::format("reading.{}[].{}", name_of(entry.kind), key));
    return found == table.end() ? nullptr : found->second;
}

bool is_measured(const job::Key& key) {
    return key.shape == job::Shape::quantity || key.shape == job::Shape::quantities ||
           key.shape == job::Shape::point || key.shape == job::Shape::points;
}

// A text that names its unit: a letter, or the marks of inch and foot.
bool is_of_a_unit(char c) {
    return std::isalpha(static_cast<unsigned char>(c)) != 0 || static_cast<unsigned char>(c) > 0x7F ||
           c == '"' || c == '\'';
}
bool names_unit(const std::string& text) {
    return std::any_of(text.begin(), text.end(), is_of_a_unit);
}

// One number of a reading: its value, the size of one of the unit it was read in, and half the last step
// written, all in memory units.
struct Read {
    double value = 0;
    double unit = 1;
    double half_step = 0;
};

double half_step_of(const std::string& text, double unit) {
    if (text.find('/') != std::string::npos) return 0;  // a fraction says all it means
    const auto mark = text.find_first_of(".,");
    int decimals = 0;
    if (mark != std::string::npos)
        for (auto i = mark + 1; i < text.size() && std::isdigit(static_cast<unsigned char>(text[i])) != 0;
             ++i)
            ++decimals;
    return 0.5 * unit * std::pow(10.0, -decimals);
}

std::optional<Read> read_text(const std::string& text, const job::Key& key, LengthUnit units) {
    const auto value = job::parse_quantity(text, key.dimension, units);
    if (!value) return std::nullopt;
    Read out{*value, job::from_bare(1, key.dimension, units), 0};
    const auto suffix = std::find_if(text.begin(), text.end(), is_of_a_unit);
    if (suffix != text.end()) {
        const auto one = job::parse_quantity("1 " + std::string(suffix, text.end()), key.dimension, units);
        if (!one) return out;  // such as 19° 30': taken to the letter
        out.unit = *one;
    }
    out.half_step = half_step_of(text, out.unit);
    return out;
}

// A measured key's numbers, lists flattened in order; nothing if one of them is no number.
bool append_values(const Json& value, const job::Key& key, LengthUnit units, std::vector<Read>& out) {
    if (value.is_array())
        return std::all_of(value.begin(), value.end(),
                           [&](const Json& one) { return append_values(one, key, units, out); });
    if (value.is_number()) {
        const double unit = job::from_bare(1, key.dimension, units);
        out.push_back({job::from_bare(value.get<double>(), key.dimension, units), unit,
                       half_step_of(fmt::format("{}", value.get<double>()), unit)});
        return true;
    }
    if (!value.is_string()) return false;
    const auto read = read_text(value.get<std::string>(), key, units);
    if (read) out.push_back(*read);
    return read.has_value();
}

// No more than this is put down to rounding, however short a number was typed (0.3 for 0.3000): half the step
// of the coarser gauges in common use, 0.01 mm, 0.01 deg, 0.1 cm3, 1 kPa.
double most_rounding(job::Dimension dimension) {
    switch (dimension) {
        case job::Dimension::length:
            return 0.005;
        case job::Dimension::angle:
            return 0.005 * rad_per_deg;
        case job::Dimension::volume:
            return 50;
        case job::Dimension::vacuum:
            return 0.5;
        default:
            return 0;
    }
}

// Read in one unit, what differs differs. Read in two, either may have been rounded to what its gauge shows.
bool same_reading(const Read& a, const Read& b, job::Dimension dimension) {
    const double dust = 1e-12 * std::max(std::abs(a.value), std::abs(b.value));
    const bool one_unit = std::abs(a.unit - b.unit) <= 1e-9 * std::max(a.unit, b.unit);
    const double rounding =
        one_unit ? 0 : std::min(std::max(a.half_step, b.half_step), most_rounding(dimension));
    return std::abs(a.value - b.value) <= rounding + dust;
}

bool same_value(const NewEntry& a, const NewEntry& b, const std::string& name) {
    const Json &left = a.values.at(name), &right = b.values.at(name);
    const job::Key* key = key_of(a, name);
    if (key == nullptr || !is_measured(*key)) return left == right;
    std::vector<Read> of_a, of_b;
    return append_values(left, *key, a.units, of_a) && append_values(right, *key, b.units, of_b) &&
           std::equal(of_a.begin(), of_a.end(), of_b.begin(), of_b.end(),
                      [&](const Read& x, const Read& y) { return same_reading(x, y, key->dimension); });
}

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

std::string unit_of(const NewEntry& entry, LengthUnit document, const std::string& key) {
    const job::Key* row = key_of(entry, key);
    if (entry.units == document || row == nullptr || !is_measured(*row)) return "";
    if (row->dimension != job::Dimension::length) return "";
    return entry.units == LengthUnit::inch ? "in" : "mm";
}

std::string line_of(const NewEntry& entry, LengthUnit document, const std::string& key) {
    return fmt::format("{} = {}\n", key, toml_value(entry.values.at(key), unit_of(entry, document, key)));
}

std::string heading(const NewEntry& entry) {
    return fmt::format("\n[[reading.{}]]\nhead = {}\nvalve = {}\n", name_of(entry.kind),
                       job::toml_string(entry.head), job::toml_string(entry.valve));
}

bool imported(const NewEntry& entry) {
    return entry.client_key.starts_with(import_mark);
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

// A proof as its login and this server's clock say it: what a page sends as the name of who measured or
// accepted, or as the day, is not shown as that person's word. An imported file speaks for itself.
Entry said_by_login(const Entry& entry) {
    Entry said = entry;
    said.values["by"] = entry.by;
    if (said.values.contains("accepted_by")) said.values["accepted_by"] = entry.by;
    constexpr std::size_t day = 10;  // "2026-01-31"
    if (said.values.contains("date")) said.values["date"] = iso_time(entry.at_ms).substr(0, day);
    return said;
}

void add_keys(Shared& table, const Entry& entry, const Standing& standing, LengthUnit document) {
    for (const auto& quantity : standing.used)
        for (const auto& key : keys_of(entry, quantity)) table.add(entry, document, key);
    if (entry.kind != EntryKind::proof) return;
    for (const char* key : {"gauge_u", "resolution", "by", "date", "gauge", "calibrated"})
        table.add(entry, document, key);
}

void add_used(Shared& table, const Entry& entry, const Standing& standing, LengthUnit document) {
    if (table.first == nullptr) table.first = &entry;
    const bool as_it_stands = entry.kind != EntryKind::proof || imported(entry);
    if (as_it_stands) return add_keys(table, entry, standing, document);
    add_keys(table, said_by_login(entry), standing, document);
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
    // One blank line between the two, whether the document ends in one or not: an export imported and
    // exported again must not grow.
    if (document.ends_with("\n\n")) return document + readings.substr(readings.find_first_not_of('\n'));
    return document + (document.ends_with('\n') ? "" : "\n") + readings;
}

bool same_quantity(const NewEntry& a, const NewEntry& b, const std::string& quantity) {
    const auto keys = keys_of(a, quantity);
    auto sorted = keys, others = keys_of(b, quantity);
    std::sort(sorted.begin(), sorted.end());
    std::sort(others.begin(), others.end());
    if (sorted != others) return false;
    return std::all_of(keys.begin(), keys.end(),
                       [&](const std::string& key) { return same_value(a, b, key); });
}

}  // namespace seatwright::store
