// A job's document and its counting entries as one job file, which the reader then reads as any other.
//
// Bare lengths keep the unit they were entered in: written bare when that is the document's unit, with the
// unit's name when it is not.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "seatwright/store/reading_tables.hpp"

namespace seatwright::store {

// [[reading.*]] tables of every used quantity (reading_tables.hpp).
std::string readings_toml(std::span<const Entry> entries, const Resolution& resolution, LengthUnit document);

// The whole job file.
std::string merged(const std::string& document, const std::string& readings);

}  // namespace seatwright::store
