// What of a cloud lies off its deck and about it: some of the points, in the deck's frame.
#pragma once

#include <vector>

#include "seatwright/scan/cloud.hpp"
#include "seatwright/scan/features.hpp"

namespace seatwright::scan {

struct OffDeck {
    std::vector<Point> points;
    double looked_at = 0;                          // of how many of the cloud they are
    double density = 0;                            // points of the deck a square millimetre, of those
    Vec2 low = Vec2::Zero(), high = Vec2::Zero();  // the deck, with some room beside it
};

// `sd`: the deck's noise. Always the same ones.
OffDeck off_deck(const Points& cloud, const Pose& pose, double sd);

// Points of the cloud spread over it, `count` at most; always the same ones.
Points some_of(const Points& points, std::size_t count, double mm);

}  // namespace seatwright::scan
