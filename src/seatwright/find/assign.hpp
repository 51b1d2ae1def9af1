// Which guide was each unlabelled touch made on?
//
// Cost of an assignment is the chi2 of the pose fitted to it (labelled touches and priors included), plus
// 2·ln of each guide's variance where these differ; yaw is kept within a right angle, for a head lies along
// the table. Adding a touch can only raise it, so a partial assignment's cost is a lower bound, and a
// best-first search that takes the touches one by one finds the exact best and, second, the exact runner-up.
// The pose of a partial assignment is the closed-form rigid fit, so a step costs about 0.1 µs.
// Touches go to different guides, none of them labelled already. See docs/find.md.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "seatwright/find/pose.hpp"
#include "seatwright/find/setup.hpp"

namespace seatwright::find {

// More unlabelled touches on one head than this, and the person is asked to label them.
inline constexpr std::size_t most_unlabelled = 32;
// Runner-up worse than this many to one is no rival and is not looked for.
inline constexpr double no_rival = 1e9;

struct Assigned {
    std::vector<std::size_t> guide;  // of each unlabelled touch
    double cost = 0;                 // beyond that of the labelled touches alone
    std::optional<double> odds;      // best against runner-up; none when it has no rival
    std::vector<std::size_t> runner_up;
};

// Fails with SolverError when there are more touches than guides or than most_unlabelled, or when the search
// grows beyond its cap (then the touches contradict the pattern everywhere).
Solved<Assigned> assign_unlabelled(std::span<const Expected> guides, std::span<const Reading> labelled,
                                   std::span<const Unlabelled> touches, const Prior& prior);

}  // namespace seatwright::find
