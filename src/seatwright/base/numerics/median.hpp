// The middle of some values, in any order. There must be one.
#pragma once

#include <vector>

namespace seatwright::numerics {

// Of an even number the mean of the two in the middle.
double median(std::vector<double> values);

// One of the values: of an even number the greater of the two in the middle.
double middle_one(std::vector<double> values);

}  // namespace seatwright::numerics
