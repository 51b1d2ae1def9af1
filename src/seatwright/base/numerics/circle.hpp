// True circles in the plane, without the limaçon approximation: for coordinates as a measuring machine gives
// them, and to show how far the approximation carries.
#pragma once

#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/base/vec.hpp"

namespace seatwright::numerics {

struct TrueCircle {
    Vec2 centre = Vec2::Zero();
    double radius = 0;
    double inner = 0, outer = 0;  // least and greatest distance of a point from the centre
    double out_of_round() const { return outer - inner; }
};

// Least sum of squares of the distances from the circle (Gauss-Newton with step control from the algebraic
// fit). Accuracy 1e-12 of the radius where the points span a good part of the circle. Error: fewer than three
// points, points on one line, no convergence.
Solved<TrueCircle> least_squares_circle(const std::vector<Vec2>& points);

enum class Rim { minimum_zone, circumscribed, inscribed };

// The circle of least zone width (ISO 12181-1 minimum zone), of least radius around all points, or of
// greatest radius inside them: limaçon problems about the current centre, each solved exactly, repeated until
// the centre rests; steps that do not gain are halved. Starts from the least-squares centre; the
// circumscribed circle is the global optimum, the other two the one nearest that start (the global one for
// points near a circle). `radius`: of the mid-zone, outer or inner circle. Error: as above, or points of a
// half circle only.
Solved<TrueCircle> rim_circle(const std::vector<Vec2>& points, Rim rim);

}  // namespace seatwright::numerics
