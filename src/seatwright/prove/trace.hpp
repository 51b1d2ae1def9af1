// A runout trace made ready for fitting.
#pragma once

#include "seatwright/base/numerics/turn.hpp"

namespace seatwright::prove {

// Fewer readings than this say nothing about shape (model: N ≥ 8).
inline constexpr std::size_t least_trace_points = 8;

using numerics::full_swing;
using numerics::Turn;
using numerics::turn_of;

// A stretch wider than this many usual steps and than `gap_worth_telling` counts as missing.
inline constexpr double gap_in_steps = 3;
inline constexpr double gap_worth_telling = 0.35;  // rad, 20 deg: what hides a lobe of order 9
bool has_missing_stretch(const Turn& turn);

// Half the circle or more was not read: the swing seen says nothing about the swing of a turn. The same
// traces have no reference circles.
bool half_unread(const Turn& turn);

}  // namespace seatwright::prove
