// What least squares cannot see: a guide read under a wrong name, a sign missed or wrong in a whole row. The
// trade knows more than the readings say: a pilot that is brought over its guide stands plumb, like valves of
// all cylinders stand and lean alike.
#pragma once

#include "seatwright/survey/state.hpp"

namespace seatwright::survey {

// A guide further out of plumb than this by its level readings was not the one under the spindle, or its
// readings have a wrong sign.
inline constexpr double not_plumb = 1.0 * rad_per_deg;
// A guide this far from where the others put it was read wrongly, however they scatter; so a seat's height, a
// lean.
inline constexpr double not_in_pattern = 1.5, not_like_height = 3.0, not_like_lean = 1.5 * rad_per_deg;

// Sets the readings concerned aside, each with why. True if there were any: settle again.
bool set_contradictions_aside(State& state);

// How far a guide stands out of plumb in the setup in which the spindle was over it.
std::optional<double> out_of_plumb(const State& state, std::size_t guide);

}  // namespace seatwright::survey
