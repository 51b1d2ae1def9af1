// Where the fixture points the head, seen from the head.
//
// A point P of the head goes to Rx(tilt)·Ry(swing)·P in the machine, so the spindle axis z, seen in the head
// frame, is
//   u = Rᵀ z = (−sin ψ·cos φ, sin φ, cos ψ·cos φ),      φ tilt, ψ swing:
// tilt is the latitude of u above the X-Z plane, swing its longitude. What a fixture can reach is a box in
// latitude and longitude; with swing fixed it is an arc of a great circle. The plumb error of a guide with
// axis a is the angle between u and a.
#pragma once

#include "seatwright/base/vec.hpp"
#include "seatwright/job/shop.hpp"

namespace seatwright::hold {

// Two angles closer than this are the same angle: far below any sensor or scale, well above the rounding of
// the few operations between a drawing angle and a plumb error (about 1e-15 rad).
inline constexpr double angle_tie = 1e-12;

struct Attitude {
    double tilt = 0;   // rad
    double swing = 0;  // rad
};

// The fixture's ranges, tilt cut to ±90 deg and swing to ±180 deg: beyond them the same spindle directions
// come again with the head turned end for end.
struct Reach {
    job::Range tilt;
    job::Range swing;
};

Reach reach_of(const job::Fixture& fixture);

// The spindle direction in the head frame, u above.
Vec3 spindle_in_head(const Attitude& attitude);

// Tilt and swing that bring the head-frame direction u (unit, u_z > 0) plumb:
// swing = −atan2(u_x, u_z), tilt = atan2(u_y, hypot(u_x, u_z)).
Attitude attitude_for(const Vec3& u);

// True when tilt and swing are within the ranges, angle_tie given.
bool within(const Reach& reach, const Attitude& attitude);

// The same attitude moved onto the ranges where rounding put it beside them.
Attitude clamped(const Reach& reach, const Attitude& attitude);

// Angle between two unit vectors by their chord: full accuracy for the small angles that matter here.
double angle_by_chord(const Vec3& a, const Vec3& b);

// Plumb error of a guide axis (head frame, unit) at an attitude, rad.
double plumb_error(const Vec3& axis, const Attitude& attitude);

}  // namespace seatwright::hold
