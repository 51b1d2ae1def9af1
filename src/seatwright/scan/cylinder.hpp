// A cylinder of least squares through points, and what its figures are worth.
//
// Gaussian associated (ISO 10360-6): least sum of squares of the distances square to the surface, over the
// points within a band of it and a length along it; the band is a multiple of their own scatter. Five
// unknowns about the middle of what is seen: two of place, two of tilt, the radius. mm, rad.
#pragma once

#include <Eigen/Geometry>
#include <optional>
#include <vector>

#include "seatwright/scan/cloud.hpp"

namespace seatwright::scan {

struct Cylinder {
    Vec3 at = Vec3::Zero();  // on the axis
    Vec3 axis = Vec3::UnitZ();
    double radius = 0;
    double low = 0, high = 0;  // along the axis from `at`, what of it is seen
    double length() const { return high - low; }
};

using Five = Eigen::Matrix<double, 5, 1>;
using FiveByFive = Eigen::Matrix<double, 5, 5>;

// Two directions square to a third, always the same ones.
struct Across {
    Vec3 u, v;
};
Across across(const Vec3& axis);

struct CylinderFit {
    Cylinder cylinder;  // `at`: the middle of what is seen
    double sd = 0;      // of a point about it
    double count = 0;   // points in the band
    double among = 0;   // share of others among them
    Across frame;       // of the unknowns: place along u and v, tilt towards u and v, radius
    FiveByFive information = FiveByFive::Zero();  // JᵀJ
};

// How far off the start may be: near, by a few sd; rough, by `widest`, and points count the less the further
// off they are until it has come near. A trial is rough and ends after a few steps: it says whether there is
// a cylinder, not yet to the last digit where.
enum class Start { rough, near, trial };

// `held`: the axis' direction stays as it is. `widest`: the first band, mm. None: fewer than 12 points, or
// none of a good part of the turn.
std::optional<CylinderFit> fit_cylinder(const std::vector<Point>& points, const Cylinder& from, double widest,
                                        bool held = false, Start start = Start::rough);

}  // namespace seatwright::scan
