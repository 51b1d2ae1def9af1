// Closed curves of a drawing: circles and ellipses, wherever they lie in space, and the pieces of which they
// may be put together.
#pragma once

#include <string>
#include <vector>

#include "seatwright/base/vec.hpp"

namespace seatwright::drawing {

// centre + p·cos t + q·sin t; p and q need not be square to each other once a drawing is stretched.
struct Curve {
    Vec3 centre = Vec3::Zero(), p = Vec3::Zero(), q = Vec3::Zero();
    std::string layer;
    int line = 0;  // of the text file; 0: a binary one
};

// A piece of such a curve, from t = `from` to `to` > from, rad.
struct Piece {
    Curve of;
    double from = 0, to = 0;
};

// Pieces that lie on one curve and together go all the way round, as that curve; the others are dropped.
// Pieces of one layer only are put together.
std::vector<Curve> joined(const std::vector<Piece>& pieces);

// The plane square to `normal` in which an entity's own coordinates count: its columns are the X, Y and Z of
// that plane in space (the published arbitrary-axis rule). A zero normal is taken as +Z.
Mat3 own_plane(const Vec3& normal);

// The arc from `a` to `b` with that bulge (the tangent of a quarter of its angle, positive
// counter-clockwise), in the plane; no piece if the two are one place or the bulge is 0.
struct Arc {
    Vec2 centre = Vec2::Zero();
    double radius = 0, from = 0, to = 0;  // to > from
};
bool arc_of(const Vec2& a, const Vec2& b, double bulge, Arc& arc);

}  // namespace seatwright::drawing
