// A job's document and its counting entries as one job file, which the reader then reads as any other.
//
// Bare lengths keep the unit they were entered in: written bare when that is the document's unit, with the
// unit's name when it is not.
#pragma once

#include <string>
#include <vector>

#include "seatwright/store/live.hpp"

namespace seatwright::store {

// What the client key of a reading out of an imported file starts with; a page may not use it.
inline constexpr std::string_view import_mark = "import:";

// [[reading.*]] tables of every used quantity; of one seat and of one proof what several people entered makes
// one table, unless an entry is a repeat. Who measured and who accepted a proof is who was logged in, and its
// day, where one is given, the day it was stored, whatever its values say.
std::string readings_toml(const std::vector<Entry>& entries, const Resolution& resolution,
                          LengthUnit document);

// One entry alone as a table.
std::string reading_toml(const NewEntry& entry, LengthUnit document);

// The whole job file.
std::string merged(const std::string& document, const std::string& readings);

// True when both give the same value for that quantity, units considered: to the letter where both were read
// in one unit, within half the coarser one's last step (and no more than half of 0.01 mm, 0.01 deg, 0.1 cm3,
// 1 kPa) where they were read in two.
bool same_quantity(const NewEntry& a, const NewEntry& b, const std::string& quantity);

}  // namespace seatwright::store
