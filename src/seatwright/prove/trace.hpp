// A runout trace made ready for fitting.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/job/readings.hpp"

namespace seatwright::prove {

// Fewer readings than this say nothing about shape (model: N ≥ 8).
inline constexpr std::size_t least_trace_points = 8;

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

// A stretch wider than this many usual steps and than `gap_worth_telling` counts as missing.
inline constexpr double gap_in_steps = 3;
inline constexpr double gap_worth_telling = 0.35;  // rad, 20 deg: what hides a lobe of order 9
bool has_missing_stretch(const Turn& turn);

// Half the circle or more was not read: the swing seen says nothing about the swing of a turn. The same
// traces have no reference circles.
bool half_unread(const Turn& turn);

}  // namespace seatwright::prove
