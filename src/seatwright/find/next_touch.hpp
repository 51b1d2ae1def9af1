// Which guide to touch next, and how many more touches will do.
//
// What a touch will be worth is known before it is made: in the linear model the covariances do not depend
// on the readings. Predicted is the enter probability at zero distance between best position and programmed
// position (no rounding to the readout). Next is the untouched guide that makes the least of these over the
// setup largest; equals (1e-9) are settled by the smaller worst standard deviation relative to its
// clearance, then by head order. The number of touches to the target follows this greedy choice.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "seatwright/find/pose.hpp"

namespace seatwright::find {

struct TouchRules {
    double touch_sd = 0;
    double positioning_sd = 0;
    double target = 0.999;
};

struct TouchPlan {
    std::optional<std::size_t> next;      // index into the setup's guides; none when all are touched
    std::optional<int> to_target;         // none when touching every guide would not reach it, or not known
    std::optional<double> least_if_next;  // predicted least enter probability after it
};

// `read`: what is touched already. `clearance`: one a guide, none where no pilot or mouth is known; those
// guides count by their covariance alone. `least_now`: the setup's present least enter probability.
TouchPlan plan_touches(std::span<const Expected> guides, std::span<const Combined> read, const Pose& pose,
                       std::span<const std::optional<double>> clearance, std::optional<double> least_now,
                       const std::vector<bool>& may_touch, const TouchRules& rules);

}  // namespace seatwright::find
