// The metal left between a seat and whatever is beside it: least distance in space between circles.
//
// Head frame, lengths mm.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

struct Circle {
    Vec3 centre = Vec3::Zero();
    Vec3 normal = Vec3::UnitZ();  // unit
    double radius = 0;
};

// Least distance between two circles in space (the curves, not the discs); 0 when they cross. To 1e-9 of
// their size, by sampling one and refining every local minimum of its distance to the other.
double circle_distance(const Circle& a, const Circle& b);

// By how much circle b reaches into the cylinder that rises from circle a along its normal, where a tool
// coming down on a would sweep: negative when it does, the radial room left otherwise (no_room when b lies
// wholly below a).
double room_in_sweep(const Circle& a, const Circle& b);

// Distance of a seat from the edge that encloses it; negative when it sticks out through the wall that rises
// from the edge.
double room_inside(const Circle& edge, const Circle& seat);

// The bridge: circle_distance, or, when either reaches into the other's sweep, the (negative) overlap.
double bridge_between(const Circle& a, const Circle& b);

// A thing beside a seat. `around` says it encloses the seat, as the cylinder bore's edge does.
struct Neighbour {
    std::string name;
    Circle circle;
    enum class Side { beside, around } side = Side::beside;
};

struct Nearest {
    double bridge = 0;
    std::string to;
};
// The neighbour with the least bridge; one named `self` is passed over.
std::optional<Nearest> nearest(const Circle& seat, const std::vector<Neighbour>& neighbours,
                               const std::string& self = {});

// Circle of section point (r, z) of a valve, sunk by `depth` along its guide axis.
Circle circle_of(const job::Valve& valve, const Vec2& point, double depth);

// Holes of the head as circles parallel to the deck about their given centres, and the edge of this valve's
// cylinder bore in the deck plane, if its diameter is known.
std::vector<Neighbour> obstacles_of(const job::Head& head, const job::Valve& valve);

}  // namespace seatwright::shape
