// Stem heights along a straight line through all that moves them (zeros, attitudes, each seat's own scatter):
// each is at + r·moves. Limits and spreads hold between two ends, since what is good is convex.
#pragma once

#include <vector>

#include "seatwright/forecast/batch.hpp"

namespace seatwright::forecast {

struct GoodEnd {
    double at = 0;    // ±infinity: the line never leaves what is good
    double wide = 0;  // along the line, of one standard uncertainty of what is read where it leaves
    double near = 0;  // from here to `at` something may be read as bad: three such widths of the nearest
};

struct GoodStretch {
    GoodEnd low, high;
    bool none = false;  // nothing on the line is good
};

// `u`: of one height as read.
GoodStretch good_stretch(const Batch& batch, const std::vector<double>& at, const std::vector<double>& moves,
                         double u);

}  // namespace seatwright::forecast
