// Bores, and pins that stand in them: cylinders narrow enough to be a guide, a bolt hole or a plug's.
#pragma once

#include <vector>

#include "seatwright/scan/cylinder.hpp"
#include "seatwright/scan/grid.hpp"

namespace seatwright::scan {

struct Bore {
    CylinderFit fit;      // axis directed out of the deck
    double arc = 0;       // of the turn that is seen, rad
    bool square = false;  // to the deck: the direction is held to its normal
    double length() const { return fit.cylinder.length(); }
};

// Radii looked for, and how far an axis may lean from the deck's normal.
inline constexpr double least_radius = 1.4, largest_radius = 11, most_lean = 0.96;
// Below these what is seen gives no axis (scan.md of the specification): length, and part of the turn.
inline constexpr double least_length = 10, least_arc = 2.0943951023931953;
// A part of a turn, no seat over it, may be a groove: below this it is named and not taken.
inline constexpr double sure_arc = 4.1887902047863905;

struct Bores {
    std::vector<Bore> all;
    std::vector<Bore> part;  // seen over too little of the turn or the length: nothing is made of them
};

// `grid`: points off the deck, in the deck's frame (deck z = 0); `sd`: noise of the deck's points; `density`:
// points a square millimetre of surface. Nothing is taken for a bore that bends, tapers or is oval beyond
// what wear does, or that other points surround.
Bores bores_of(const Grid& grid, double sd, double density);

// How much of the turn, in steps of 10 deg, has points of the surface, rad.
double arc_of(const std::vector<Point>& points, const CylinderFit& fit);

// Lengthens or shortens what is seen of the cylinder to where points of it end, told to a slice: 0.5 mm, or
// where points stand close down to 0.1. Then a slice is left out at either end, where other surfaces begin.
void reach(const std::vector<Point>& points, CylinderFit& fit, bool fine = false);

// Points no further than `within` from the axis, from `low` to `high` along it.
std::vector<Point> about_axis(const Grid& grid, const Cylinder& cylinder, double within, double low,
                              double high);

}  // namespace seatwright::scan
