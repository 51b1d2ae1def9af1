#include "seatwright/find/variance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace seatwright::find {

std::optional<OneWay> one_way(const std::vector<std::vector<double>>& groups) {
    double n = 0, n2 = 0, used = 0, origin = 0;
    for (const auto& group : groups)
        if (!group.empty() && used++ == 0) origin = group.front();
    // Two passes about a value of the data itself: the mean of what is left is exact to rounding.
    double grand = 0;
    for (const auto& group : groups) {
        for (const double y : group) grand += y - origin;
        n += static_cast<double>(group.size());
        n2 += static_cast<double>(group.size()) * static_cast<double>(group.size());
    }
    if (used < 2 || n <= used) return std::nullopt;
    grand /= n;
    OneWay result;
    result.between_dof = used - 1;
    result.within_dof = n - used;
    for (const auto& group : groups) {
        if (group.empty()) continue;
        double mean = 0;
        for (const double y : group) mean += y - origin - grand;
        mean /= static_cast<double>(group.size());
        result.between_squares += static_cast<double>(group.size()) * mean * mean;
        for (const double y : group) {
            const double off = y - origin - grand - mean;
            result.within_squares += off * off;
        }
    }
    const double between = result.between_squares / result.between_dof;
    const double within = result.within_squares / result.within_dof;
    result.f = within > 0 ? between / within : std::numeric_limits<double>::max();
    result.within_sd = std::sqrt(within);
    const double size = (n - n2 / n) / result.between_dof;
    result.between_sd = std::sqrt(std::max(0.0, (between - within) / size));
    return result;
}

}  // namespace seatwright::find
