#include "seatwright/base/numerics/median.hpp"

#include <algorithm>

#include "seatwright/base/fault.hpp"

namespace seatwright::numerics {

double median(std::vector<double> values) {
    require(!values.empty(), "a median is of something");
    std::sort(values.begin(), values.end());
    const std::size_t half = values.size() / 2;
    return values.size() % 2 == 1 ? values[half] : (values[half - 1] + values[half]) / 2;
}

double middle_one(std::vector<double> values) {
    require(!values.empty(), "a median is of something");
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

}  // namespace seatwright::numerics
