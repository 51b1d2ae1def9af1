// Repeats that somebody accepted, put into the figures: the description is then that of the casting, and no
// longer of this one head to the last hundredth.
#pragma once

#include <string>
#include <vector>

#include "seatwright/survey/survey.hpp"

namespace seatwright::survey {

// Whether a repeat has figures to be taken over: "like valves I", "row of guides I", "bore spacing". Others
// say how the head is ordered, or are of holes.
bool can_be_accepted(const std::string& what);

// Of like valves z, incline and cant become the mean of those read (in even cylinders the other cant, where
// the order alternates), of a row y, by the bore spacing x: of every guide of it, those left open too. u is
// what one more guide like them may differ by, from how far those read stray. What the survey does not offer,
// or no longer, changes nothing.
Survey accepted(Survey survey, const std::vector<std::string>& repeats);

}  // namespace seatwright::survey
