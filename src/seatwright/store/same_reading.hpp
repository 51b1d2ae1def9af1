// Whether two people read the same.
#pragma once

#include <string>

#include "seatwright/store/entry.hpp"

namespace seatwright::store {

// True when both give the same value for that quantity, units considered: to the letter where both were read
// in one unit, within half the coarser one's last step (and no more than half of 0.01 mm, 0.01 deg, 0.1 cm3,
// 1 kPa) where they were read in two.
bool same_quantity(const NewEntry& a, const NewEntry& b, const std::string& quantity);

}  // namespace seatwright::store
