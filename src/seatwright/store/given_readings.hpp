// Readings for the job reader without any text: what reading_tables.hpp gives goes through the table of keys
// as it is. The same numbers, to the last bit, as through merge.hpp's text (a test holds both against each
// other).
#pragma once

#include <string>
#include <vector>

#include "seatwright/job/reader.hpp"
#include "seatwright/store/reading_tables.hpp"

namespace seatwright::store {

// Faults name `file`; `document` is the unit of bare lengths. With `lines` a fault says which key of its
// table it is of, as if each stood in a line of its own: head in 2, valve in 3, the others from 4 on.
job::GivenReadings given_readings(const std::vector<ReadingTable>& tables, LengthUnit document,
                                  const std::string& file, bool lines = false);

}  // namespace seatwright::store
