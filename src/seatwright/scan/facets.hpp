// Facets: cones about a bore's axis, as a seat has them.
//
// Picture: radius from the axis across, height along it upwards. What goes round the axis lights the same
// place of it all round; a straight line there is a facet. Facet angle: from the plane square to the axis.
#pragma once

#include <array>
#include <cmath>
#include <optional>
#include <vector>

#include "seatwright/scan/cylinder.hpp"
#include "seatwright/scan/grid.hpp"

namespace seatwright::scan {

using Four = Eigen::Matrix<double, 4, 1>;
using FourByFour = Eigen::Matrix<double, 4, 4>;

// A facet's line in the picture, worked out once for many places.
class FacetLine {
  public:
    FacetLine(double angle, double rho, double s, double inner, double outer)
        : cos_(std::cos(angle)),
          sin_(std::sin(angle)),
          rho_(rho),
          s_(s),
          inner_(inner - rho),
          outer_(outer - rho) {}
    // Signed distance of a place of the picture from the line.
    double distance(double radius, double height) const {
        return (height - s_) * cos_ - (radius - rho_) * sin_;
    }
    // From the facet's own place to the foot of that one.
    double along(double radius, double height) const { return (radius - rho_) * cos_ + (height - s_) * sin_; }
    // Whether the place's foot on the line lies between its ends, let out by so much at each.
    bool holds(double radius, double height, double more = 0) const {
        const double out = along(radius, height) * cos_;
        return out > inner_ - more * cos_ && out < outer_ + more * cos_;
    }
    double cos() const { return cos_; }
    double sin() const { return sin_; }

  private:
    double cos_, sin_, rho_, s_, inner_, outer_;
};

// height = s + (radius − rho)·tan angle, about the axis shifted by `off`.
struct Facet {
    double angle = 0;
    double rho = 0, s = 0;        // a place of the line, in the middle of what is seen
    double inner = 0, outer = 0;  // radii where it ends
    Vec2 off = Vec2::Zero();      // of its own centre from the axis, along across()'s u and v
    double sd = 0, count = 0;
    FourByFour information = FourByFour::Zero();  // of: height, angle, off
    double height_at(double radius) const;
    FacetLine line() const { return {angle, rho, s, inner, outer}; }
};

// In the axis' own coordinates: along u and v, and along the axis.
inline Vec3 in_axis_frame(const Cylinder& axis, const Across& frame, const Vec3& at) {
    const Vec3 d = at - axis.at;
    return {frame.u.dot(d), frame.v.dot(d), axis.axis.dot(d)};
}

// Least squares over the points within a band of it and between its ends. Near: `from` was fitted before, its
// ends alone were moved since. None: too few points.
std::optional<Facet> fit_facet(const std::vector<Point>& points, const Cylinder& axis, const Facet& from,
                               double widest, Start start = Start::rough);

// The facets about a bore, from the inside outwards; what they could be of is the caller's affair. `points`:
// around the axis, off the deck.
std::vector<Facet> facets_about(const std::vector<Point>& points, const Cylinder& axis, double sd,
                                double density);

// Those of them that make a seat, and which of them is its face.
struct Seat {
    std::vector<Facet> facets;  // neighbours, from the inside outwards
    std::size_t face = 0;
    bool in_doubt = false;  // another facet could as well be the face
    const Facet& seat_face() const { return facets[face]; }
};
std::optional<Seat> seat_of(const std::vector<Facet>& facets, const Cylinder& axis);

// Where neighbours meet, or the outermost and innermost end: radii of the face's inner and outer edge.
std::array<double, 2> edges_of_face(const Seat& seat);

}  // namespace seatwright::scan
