// The border of what a fixture can reach: arcs of constant tilt or constant swing.
//
// Along an arc with parameter t (the angle that is free), the cosine of the plumb error of axis a is
//   a·u(t) = A cos t + B sin t + C,
// constant swing ψ (t = tilt):  A = a_z cos ψ − a_x sin ψ, B = a_y,         C = 0,
// constant tilt φ (t = swing):  A = a_z cos φ,             B = −a_x cos φ,  C = a_y sin φ.
#pragma once

#include <vector>

#include "seatwright/hold/attitude.hpp"

namespace seatwright::hold {

struct Wave {
    double a = 0, b = 0, c = 0;
    double slope(double t) const;  // of a cos t + b sin t + c
};

struct Edge {
    enum class Free { tilt, swing } free = Free::tilt;
    double fixed = 0;  // the other angle
    job::Range range;  // of the free one

    Attitude at(double t) const;
    Wave wave(const Vec3& axis) const;
};

// The two to four arcs that bound the reach (those that coincide once).
std::vector<Edge> edges_of(const Reach& reach);

// The four corners (those that coincide once).
std::vector<Attitude> corners_of(const Reach& reach);

// Where along the arc the plumb error of one axis is least.
double foot(const Wave& wave);

// Where two axes have the same plumb error: none, one or two places in (−π, π].
std::vector<double> crossings(const Wave& one, const Wave& other);

}  // namespace seatwright::hold
