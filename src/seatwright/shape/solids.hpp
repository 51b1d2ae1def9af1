// Distances between solids of revolution: bores, rings, counterbores, and what a seat's cutter sweeps.
//
// A frustum is everything between two discs square to one axis; a bore or a ring is one whose discs are
// alike, a disc or an axis one without length or radius. Any frame, lengths mm.
#pragma once

#include "seatwright/base/vec.hpp"

namespace seatwright::shape {

struct Frustum {
    Vec3 base = Vec3::Zero();
    Vec3 axis = Vec3::UnitZ();  // unit, from the base to the other end
    double length = 0;
    double base_radius = 0, end_radius = 0;

    Vec3 end() const { return base + axis * length; }
    double most_radius() const { return base_radius > end_radius ? base_radius : end_radius; }
    double least_radius() const { return base_radius < end_radius ? base_radius : end_radius; }
};

// Least distance between the axes of the two, as the straight pieces they are. Closed form.
double axes_apart(const Frustum& a, const Frustum& b);

// No two points of a and b are nearer than this: axes_apart less the greatest radii; may be negative.
double distance_bound(const Frustum& a, const Frustum& b);

// Least distance between the solids, 0 when they meet: the algorithm of Gilbert, Johnson and Keerthi (IEEE
// J. Robotics and Automation 4 (1988) 193), whose lower bound stops it at 1e-8 mm, after at most 200 steps.
// Against dense sampling right to 1e-6 mm for sizes of a head; some 2 us.
double solid_distance(const Frustum& a, const Frustum& b);

// The metal between solid a and the cylinder b: solid_distance, or, where they meet, minus how far a reaches
// into b: b's radius less the least distance of a from b's axis, and where that axis runs through a, more by
// how deep it runs in it. Two cylinders side by side, axes s apart: s less both radii, whatever its sign.
double wall(const Frustum& a, const Frustum& b);

}  // namespace seatwright::shape
