// A worn seat as measured, against the section it is to get: how deep to clean up, what is removed, and where
// the new face would still show old surface. Everything exact for piecewise-linear profiles.
//
// Seat frame as shape.hpp, lengths mm, volumes mm3.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

// The points by ascending r, ties by ascending z: any order of the same points gives the same profile. A step
// in the surface is two points of one r.
std::vector<Vec2> worn_profile(std::vector<Vec2> points);

struct Cleanup {
    double depth = 0;      // max over the face of z_new − z_old; negative when there is metal to spare
    double at = 0;         // r where it is reached
    bool covered = false;  // the whole face was measured
};

// None when no part of the face was measured (fewer than two points, or all beside it). Noise is taken at its
// word: the lowest point sets the depth.
std::optional<Cleanup> cleanup_of(const Section& section, const std::vector<Vec2>& worn);

struct Removal {
    double volume = 0;     // V = 2π∫ r·max(0, z_old − (z_new − d)) dr over the form's span
    bool covered = false;  // the whole span was measured; where it was not, nothing is counted
};
std::optional<Removal> removal_of(const Section& section, const std::vector<Vec2>& worn, double depth);

// The highest gap z_old − z_new over the whole of an edge, signed: how far above its drawing place it comes
// to rest on that surface. None when they share no radius.
std::optional<double> highest_gap(const Section& edge, const std::vector<Vec2>& worn);

// Least |z_old − z_new| over the seat face, 0 where they cross. None when no part of the face was measured.
std::optional<double> nearest_to_face(const Section& section, const std::vector<Vec2>& worn);

// How far old metal stands above the form as drawn, at its highest over the form's span: a raw insert, a
// weld; 0 where it stands nowhere above it or was not measured.
double proud_by(const Section& section, const std::vector<Vec2>& worn);

// Intervals of r on the face that the form, sunk by `depth`, would leave uncut (z_old < z_new − d).
std::vector<std::array<double, 2>> still_old(const Section& section, const std::vector<Vec2>& worn,
                                             double depth);

}  // namespace seatwright::shape
