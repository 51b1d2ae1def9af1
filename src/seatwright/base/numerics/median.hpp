// The middle of some values, in any order. There must be one.
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

namespace seatwright::numerics {

// Of an even number the mean of the two in the middle.
double median(std::vector<double> values);

// One of the values: of an even number the greater of the two in the middle.
double middle_one(std::vector<double> values);

// The value that `part` of them (0 … 1) come before, by rank: one of the values. Puts them in another order.
template <class T>
T value_at(std::vector<T>& values, double part) {
    const auto k =
        values.begin() + static_cast<std::ptrdiff_t>(part * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), k, values.end());
    return *k;
}

}  // namespace seatwright::numerics
