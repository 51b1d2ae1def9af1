// The gauge circle of a seat: its face's edges, which are where its neighbours meet it or else where what is
// seen of it ends, and the circle midway between them.
#pragma once

#include <array>
#include <vector>

#include "seatwright/scan/facets.hpp"

namespace seatwright::scan {

struct FoundSeat {
    Seat seat;                                 // facets fitted to all their points
    std::vector<FourByFour> covariance;        // of each facet: height, angle, off
    std::array<double, 2> edges{}, u_edges{};  // radii of the face's inner and outer edge
    double gauge = 0, height = 0;              // radius of the gauge circle, where along the axis
    double u_gauge = 0, u_height = 0;
};

// The radius where two neighbours meet.
double meeting(const Facet& a, const Facet& b);

// Fills edges and gauge circle, and how far each is known. `points`: of the face.
void measure_face(const std::vector<Point>& points, const Cylinder& axis, FoundSeat& out);

}  // namespace seatwright::scan
