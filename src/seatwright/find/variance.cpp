#include "seatwright/find/variance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace seatwright::find {

std::optional<OneWay> one_way(const std::vector<Moments>& groups) {
    double n = 0, n2 = 0, used = 0, grand = 0;
    for (const Moments& group : groups) {
        grand += group.n * group.mean;
        n += group.n;
        n2 += group.n * group.n;
        used += group.n > 0 ? 1 : 0;
    }
    if (used < 2 || n <= used) return std::nullopt;
    grand /= n;
    OneWay result;
    result.between_dof = used - 1;
    result.within_dof = n - used;
    for (const Moments& group : groups) {
        const double off = group.mean - grand;
        result.between_squares += group.n * off * off;
        result.within_squares += group.squares;
    }
    const double between = result.between_squares / result.between_dof;
    const double within = result.within_squares / result.within_dof;
    result.f = within > 0 ? between / within : std::numeric_limits<double>::max();
    result.within_sd = std::sqrt(within);
    const double size = (n - n2 / n) / result.between_dof;
    result.between_sd = std::sqrt(std::max(0.0, (between - within) / size));
    return result;
}

std::optional<OneWay> one_way(const std::vector<std::vector<double>>& groups) {
    double origin = 0;
    for (auto group = groups.rbegin(); group != groups.rend(); ++group)
        if (!group->empty()) origin = group->front();
    // About a value of the data itself, each group in two passes: exact to rounding.
    std::vector<Moments> all;
    all.reserve(groups.size());
    for (const auto& group : groups) {
        Moments& of = all.emplace_back();
        of.n = static_cast<double>(group.size());
        for (const double y : group) of.mean += (y - origin) / of.n;
        for (const double y : group) of.squares += (y - origin - of.mean) * (y - origin - of.mean);
    }
    return one_way(all);
}

}  // namespace seatwright::find
