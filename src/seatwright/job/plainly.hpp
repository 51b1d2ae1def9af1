// Entries of a file as one text that only depends on what they say: not on order, spacing, comments or units.
#pragma once

#include <string>

#include "seatwright/job/value.hpp"

namespace seatwright::job {

// A line for each value, "path = value" in memory units, sorted; readings are left out.
std::string plainly(const Value& root);

}  // namespace seatwright::job
