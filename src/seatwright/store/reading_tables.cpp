#include "seatwright/store/reading_tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <map>

#include "seatwright/store/database.hpp"

namespace seatwright::store {

namespace {

std::string unit_of(const NewEntry& entry, LengthUnit document, const std::string& key) {
    const job::Key* row = row_of(entry.kind, key);
    if (entry.units == document || row == nullptr || !is_measured(*row)) return "";
    if (row->dimension != job::Dimension::length) return "";
    return entry.units == LengthUnit::inch ? "in" : "mm";
}

ReadingField field_of(const NewEntry& entry, LengthUnit document, const std::string& key) {
    return {key, entry.values.at(key), unit_of(entry, document, key)};
}

bool imported(const NewEntry& entry) {
    return entry.client_key.starts_with(import_mark);
}

bool says_who_or_when(const NewEntry& entry) {
    return entry.read_by || entry.values.contains("by") || entry.values.contains("accepted_by") ||
           entry.values.contains("date");
}

// Who measured: who is logged in, or whom that person names; then it says whose word that is.
std::string measured_by(const Entry& entry) {
    return entry.read_by ? fmt::format("{} (entered by {})", entry.read_by_name, entry.by) : entry.by;
}

// A reading as its login and this server's clock say it: what a page sends as the name of who measured or
// accepted, or as the day, is not shown as that person's word.
Entry said_by_login(const Entry& entry) {
    Entry said = entry;
    if (entry.kind == EntryKind::proof || entry.read_by || said.values.contains("by"))
        said.values["by"] = measured_by(entry);
    if (said.values.contains("accepted_by")) said.values["accepted_by"] = entry.by;
    if (said.values.contains("date")) said.values["date"] = iso_day(entry.at_ms);
    return said;
}

void add_key(ReadingTable& table, const Entry& entry, LengthUnit document, const std::string& key) {
    const auto same = [&](const ReadingField& field) { return field.key == key; };
    if (entry.values.contains(key) && std::none_of(table.fields.begin(), table.fields.end(), same))
        table.fields.push_back(field_of(entry, document, key));
}

void add_keys(ReadingTable& table, const Entry& entry, const Standing& standing, LengthUnit document) {
    for (const auto& quantity : standing.used)
        for (const auto& key : keys_of(entry, quantity)) add_key(table, entry, document, key);
    if (entry.kind != EntryKind::proof) return;
    for (const char* key : {"gauge_u", "resolution", "by", "date", "gauge", "calibrated"})
        add_key(table, entry, document, key);
}

// What somebody stands by says who, and when.
bool stands_by(const NewEntry& entry) {
    const auto says = [&](const char* key) {
        const auto at = entry.values.find(key);
        return at != entry.values.end() && at->is_boolean() && at->get<bool>();
    };
    return says("sure") || says("keep");
}

void add_used(ReadingTable& table, const Entry& entry, const Standing& standing, LengthUnit document) {
    const bool stood_by = stands_by(entry);
    const bool speaks_for_itself = imported(entry);  // papers say that a file did
    if (speaks_for_itself || (entry.kind != EntryKind::proof && !stood_by && !says_who_or_when(entry)))
        return add_keys(table, entry, standing, document);
    Entry said = said_by_login(entry);
    if (stood_by) {
        said.values["by"] = entry.by;
        said.values["date"] = iso_day(entry.at_ms);
    }
    add_keys(table, said, standing, document);
    for (const char* key : {"by", "date"})
        if (stood_by) add_key(table, said, document, key);
}

}  // namespace

bool names_from_a_file(const NewEntry& entry) {
    return imported(entry) && says_who_or_when(entry);
}

Json shown_values(const Entry& entry) {
    Json values = entry.values;
    if (!imported(entry) && values.contains("accepted_by")) values["accepted_by"] = entry.by;
    return values;
}

bool is_measured(const job::Key& key) {
    return key.type == job::ValueType::quantity || key.type == job::ValueType::quantities ||
           key.type == job::ValueType::point || key.type == job::ValueType::points;
}

bool is_of_a_unit(char c) {
    return std::isalpha(static_cast<unsigned char>(c)) != 0 || static_cast<unsigned char>(c) > 0x7F ||
           c == '"' || c == '\'';
}

bool names_unit(const std::string& text) {
    return std::any_of(text.begin(), text.end(), is_of_a_unit);
}

const job::Key* row_of(EntryKind kind, const std::string& key) {
    static const auto table = [] {
        std::map<std::string, const job::Key*> all;
        for (const auto& row : job::reading_keys()) all.emplace(row.path, &row);
        return all;
    }();
    const auto found = table.find(fmt::format("reading.{}[].{}", name_of(kind), key));
    return found == table.end() ? nullptr : found->second;
}

std::vector<std::string> keys_of(const NewEntry& entry, const std::string& quantity) {
    std::vector<std::string> keys;
    const bool whole = quantity == name_of(entry.kind);
    for (const auto& [key, value] : entry.values.items())
        if (whole || key == quantity || (quantity == "trace" && key == "angles")) keys.push_back(key);
    return keys;
}

bool makes_own_table(const NewEntry& entry) {
    return entry.repeat || entry.kind < EntryKind::seat;
}

ReadingTable reading_table(const NewEntry& entry, LengthUnit document) {
    ReadingTable out{entry.kind, entry.head, entry.valve};
    for (const auto& [key, value] : entry.values.items())
        out.fields.push_back(field_of(entry, document, key));
    return out;
}

std::vector<ReadingTable> reading_tables(std::span<const Entry> entries, const Resolution& resolution,
                                         LengthUnit document) {
    std::vector<ReadingTable> tables;
    std::map<std::string, std::size_t> shared;
    for (std::size_t i = 0; i < entries.size(); ++i) {
        const Entry& entry = entries[i];
        const Standing& standing = resolution.standing[i];
        if (!is_reading(entry.kind) || standing.used.empty()) continue;
        std::size_t table = tables.size();
        if (!makes_own_table(entry)) table = shared.try_emplace(place_of(entry), tables.size()).first->second;
        if (table == tables.size()) tables.push_back({entry.kind, entry.head, entry.valve});
        add_used(tables[table], entry, standing, document);
    }
    return tables;
}

}  // namespace seatwright::store
