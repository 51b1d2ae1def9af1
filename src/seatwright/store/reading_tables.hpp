// What counts of the entries, as the reading tables a job file has of it: for its text (merge.hpp) and for
// the reader without text (given_readings.hpp).
#pragma once

#include <span>
#include <string>
#include <vector>

#include "seatwright/job/keys.hpp"
#include "seatwright/store/live.hpp"

namespace seatwright::store {

// What the client key of a reading out of an imported file starts with; a page may not use it.
inline constexpr std::string_view import_mark = "import:";
// What an entry says in place of its login's own name.
inline constexpr const char* who_is_logged_in = "login";
// The values as they are shown.
Json shown_values(const Entry& entry);
// Whether it says who measured or accepted, or when, and a file that was brought in says so, no login.
bool names_from_a_file(const NewEntry& entry);

// One value of a reading as it was entered. `unit` is the name of a bare length's unit where it is not the
// document's, else empty.
struct ReadingField {
    std::string key;
    Json value;
    std::string unit{};
};

// [[reading.<kind>]] with its keys in order.
struct ReadingTable {
    EntryKind kind = EntryKind::touch;
    std::string head, valve;
    std::vector<ReadingField> fields{};
};

// Tables of every used quantity, in the order in which their first entry was recorded; of one seat and of one
// proof what several people entered makes one table, unless an entry is a repeat. Who measured and who
// accepted a proof is who was logged in, and its day, where one is given, the day it was stored, whatever its
// values say.
std::vector<ReadingTable> reading_tables(std::span<const Entry> entries, const Resolution& resolution,
                                         LengthUnit document);

// Whether what an entry says makes a table of its own, rather than one with others of its place (place_of).
bool makes_own_table(const NewEntry& entry);

// One entry alone.
ReadingTable reading_table(const NewEntry& entry, LengthUnit document);

// The keys of one entry's quantity, attributes that belong to it included.
std::vector<std::string> keys_of(const NewEntry& entry, const std::string& quantity);

// The row of the table of keys for one key of a reading; null for a key the reader will refuse.
const job::Key* row_of(EntryKind kind, const std::string& key);
bool is_measured(const job::Key& row);

// A text that names its unit: a letter, or the marks of inch and foot.
bool is_of_a_unit(char c);
bool names_unit(const std::string& text);

}  // namespace seatwright::store
