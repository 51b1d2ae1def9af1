// The oracle of setups: every way to part a few axes into groups.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

#include "seatwright/base/vec.hpp"

namespace seatwright::oracle {

// Every way to part the axes into groups, each group's error from the search: fewest groups, then the sorted
// errors first in dictionary order.
struct BruteForce {
    const std::vector<Vec3>& axes;
    double limit;
    std::vector<double> error;  // by subset
    std::vector<double> best;
    bool near_limit = false;

    template <class F>
    BruteForce(const std::vector<Vec3>& given, double most, const F& least) : axes(given), limit(most) {
        error.resize(std::size_t{1} << axes.size());
        for (std::size_t subset = 1; subset < error.size(); ++subset) {
            std::vector<Vec3> members;
            for (std::size_t i = 0; i < axes.size(); ++i)
                if ((subset >> i) & 1) members.push_back(axes[i]);
            error[subset] = least(members);
            if (std::abs(error[subset] - limit) < 1e-7) near_limit = true;
        }
        std::vector<std::size_t> groups;
        part(0, groups);
    }

    void part(std::size_t i, std::vector<std::size_t>& groups) {
        if (i == axes.size()) {
            std::vector<double> errors;
            for (const auto g : groups) {
                if (error[g] > limit) return;
                errors.push_back(error[g]);
            }
            std::sort(errors.rbegin(), errors.rend());
            if (best.empty() || errors.size() < best.size() ||
                (errors.size() == best.size() && errors < best))
                best = errors;
            return;
        }
        for (std::size_t g = 0; g < groups.size(); ++g) {
            groups[g] |= std::size_t{1} << i;
            part(i + 1, groups);
            groups[g] &= ~(std::size_t{1} << i);
        }
        groups.push_back(std::size_t{1} << i);
        part(i + 1, groups);
        groups.pop_back();
    }
};

}  // namespace seatwright::oracle
