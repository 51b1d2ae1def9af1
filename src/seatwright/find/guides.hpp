// Where each guide is, given the pose, and the chance that its pilot enters.
//
// A guide not touched lies at Rot(θ)m + t + its casting deviation: covariance of the pose there plus
// scatter². A touched one blends pattern and reading: with k = scatter²/(scatter² + 1/W) its deviation is
// k·(r̄ − prediction), so the mean moves by that, the pose's covariance counts (1 − k)² and scatter²·(1 − k)
// is left. This is the exact posterior of the linear model (Schur complement of its normal matrix).
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "seatwright/find/pose.hpp"

namespace seatwright::find {

struct Place {
    Vec2 at = Vec2::Zero();
    Mat2 covariance = Mat2::Zero();
};

// `read` from combine() of the same readings the pose was fitted to.
Place place_guide(const Expected& guide, const Combined& read, const Pose& pose);

// Rounded to the readout's resolution; not rounded when that is 0.
Vec2 as_programmed(const Vec2& at, double resolution);

// Chance that the pilot, sent to `programmed`, enters a mouth `clearance` (radius, mouth less tip, halved)
// wide: P(|at + n − programmed| ≤ clearance), n ~ N(0, covariance + positioning_sd²·I). 1e-9 absolute.
double enter_probability(const Place& place, const Vec2& programmed, double positioning_sd, double clearance);

}  // namespace seatwright::find
