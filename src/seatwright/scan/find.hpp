// The features of a cloud: deck, bores with what stands about them, in the deck's frame and with what their
// figures are worth. What each of them is of a head is the next one's affair (head.hpp).
#pragma once

#include <optional>
#include <vector>

#include "seatwright/scan/features.hpp"

namespace seatwright::scan {

struct FoundSeat {
    Seat seat;                                 // facets fitted to all their points
    std::vector<FourByFour> covariance;        // of each facet: height, angle, off
    std::array<double, 2> edges{}, u_edges{};  // radii of the face's inner and outer edge
    double gauge = 0, height = 0;              // radius of the gauge circle, where along the axis
    double u_gauge = 0, u_height = 0;
};

struct FoundBore {
    CylinderFit fit;
    FiveByFive covariance = FiveByFive::Zero();
    double arc = 0;
    bool square = false;
    std::optional<FoundSeat> seat;
    bool pin = false;  // stands above its seat
    double length() const { return fit.cylinder.length(); }
};

struct Found {
    std::vector<FoundBore> bores;  // an axis is known
    std::vector<FoundBore> part;   // seen over too little to give one
    double deck_rms = 0, deck_points = 0, inliers = 0, sd = 0;
    std::optional<double> rival;  // a parallel plane so far off, half as large as the deck or more
    Wider wider;
};

// `mm`: a unit of the file. None: no plane that could be a deck.
std::optional<Found> find(const Cloud& cloud, double mm);

// Points of the cloud spread over it, `count` at most; always the same ones.
Points some_of(const Points& points, std::size_t count, double mm);

}  // namespace seatwright::scan
