// Every point of the file put to the feature it lies on, and the features' last fits.
//
// Finding is done on some of the points; what is told comes of all of them. The noise of a scanner goes
// together over a few millimetres: how much wider that makes an uncertainty than points that err each by
// itself would have it is measured in blocks of the surfaces themselves (wider_of).
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "seatwright/scan/bores.hpp"
#include "seatwright/scan/deck.hpp"
#include "seatwright/scan/deck_map.hpp"
#include "seatwright/scan/facets.hpp"
#include "seatwright/scan/watch.hpp"

namespace seatwright::scan {

// From the cloud's own coordinates to the deck's frame: deck z = 0, +Z out of it. mm.
struct Pose {
    double mm = 1;  // a unit of the file
    Mat3 turn = Mat3::Identity();
    double level = 0;
    Vec3 at(const Point& p) const {
        Vec3 out = turn * (mm * p.vec());
        out.z() -= level;
        return out;
    }
};
Pose pose_of(const Plane& plane, double mm);

struct Feature {
    enum class Is { bore, facet } is = Is::bore;
    Cylinder axis;  // the bore itself, or the axis a facet goes round
    Facet facet;
    double sd = 0;
};

struct Gathered {
    std::vector<std::vector<Point>> points;  // of each feature, in the deck's frame
    Plane deck;  // of least squares over all its points, in the cloud's coordinates
    double deck_points = 0, deck_rms = 0;
    double inliers = 0;  // on the deck or a feature
};

// `pose`: by the plane found before, whose noise is `sd`. The deck's points are counted in `map`.
Gathered put_to(const std::vector<Feature>& features, const Points& cloud, const Pose& pose, double sd,
                DeckMap& map, const Watch& watch);

// How much more the parameters' squared uncertainties are than of points that err each by itself: place,
// tilt, radius of bores; height, angle, place of facets.
struct Wider {
    std::array<double, 3> bore{1, 1, 1}, facet{1, 1, 1};
};
struct FittedBore {
    const std::vector<Point>* points = nullptr;
    CylinderFit fit;
};
struct FittedFacet {
    const std::vector<Point>* points = nullptr;
    Cylinder axis;
    Facet facet;
};
// Block sums of the errors' parts in each parameter against what their scatter alone would make, in blocks of
// two sizes and carried on to blocks of any size; over all features of a kind together. Never below 1.
Wider wider_of(const std::vector<FittedBore>& bores, const std::vector<FittedFacet>& facets);

// Standard uncertainties squared, of the five unknowns of a bore, the four of a facet.
FiveByFive covariance_of(const CylinderFit& fit, const Wider& wider, bool held);
FourByFour covariance_of(const Facet& facet, const Wider& wider);

}  // namespace seatwright::scan
