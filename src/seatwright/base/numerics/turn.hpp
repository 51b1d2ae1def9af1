// Readings round a turn, made ready for fitting.
#pragma once

#include <cstddef>
#include <vector>

namespace seatwright::numerics {

// r(θ) with its mean taken off, and the directions of its points. All vectors have the same length.
struct Turn {
    std::vector<double> angle;     // rad, as read
    std::vector<double> r;         // mm, less `mean`
    std::vector<double> cos, sin;  // of angle
    double mean = 0;
    double widest_gap = 0;       // between neighbours in angle, the way round included, rad
    double widest_gap_from = 0;  // angle at which it begins
    double usual_step = 0;       // median distance of neighbours in angle

    std::size_t size() const { return r.size(); }
};

// Angles as given, or even from 0 when none are. Requires finite readings and equal lengths (the reader's
// business) and at least one reading.
Turn turn_of(const std::vector<double>& readings, const std::vector<double>& angles);

// Greatest less least reading.
double full_swing(const Turn& turn);

}  // namespace seatwright::numerics
