// The attitude that serves a group of guides best: the least largest plumb error a fixture's ranges allow.
#pragma once

#include <vector>

#include "seatwright/hold/attitude.hpp"

namespace seatwright::hold {

struct BestAttitude {
    Attitude attitude;
    double worst = 0;  // largest plumb error of the group, rad
};

// With the centre of the smallest enclosing cap inside the ranges that centre is the answer (the largest
// plumb error is quasi-convex over the half-sphere the axes lie in, so it has no other valley); otherwise the
// answer lies on the border, where the largest plumb error is quasi-convex along each arc: bisection on its
// slope, ended exactly on the foot of one axis or the crossing of two. Accurate to about 1e-15 rad over the
// error's own size; at most 4·64 passes over the group. `axes`: unit, z > 0, not empty.
BestAttitude best_attitude(const std::vector<Vec3>& axes, const Reach& reach);

// Largest plumb error of the group at an attitude.
double worst_plumb(const std::vector<Vec3>& axes, const Attitude& attitude);

}  // namespace seatwright::hold
