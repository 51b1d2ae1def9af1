// The features of a cloud: deck, bores with what stands about them, in the deck's frame and with what their
// figures are worth. What each of them is of a head is the next one's affair (head.hpp).
#pragma once

#include <optional>
#include <vector>

#include "seatwright/scan/features.hpp"
#include "seatwright/scan/gauge.hpp"

namespace seatwright::scan {

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
    Pose pose;         // from the cloud's coordinates to the frame all this is in
    DeckMap deck_map;  // in the frame of the deck as first found, which is the same to far below a square
};

// `mm`: a unit of the file. None: no plane that could be a deck.
std::optional<Found> find(const Cloud& cloud, double mm, const Watch& watch = {});

}  // namespace seatwright::scan
