// Which reading next: what the readings leave open, and what makes the worst figures better.
//
// Of each reading that could be taken the covariance it would leave is worked out beforehand (what it would
// show does not matter). A valve's worst relative uncertainty is the largest of u(x), u(y), u(z) over 0.05 mm
// and u(incline), u(cant) over 0.03 deg; a figure left open counts 100. `help` is by how much the mean of it
// over the valves falls; the best reading is named, counted as taken, and the next is looked for.
#pragma once

#include <vector>

#include "seatwright/survey/ask.hpp"
#include "seatwright/survey/state.hpp"

namespace seatwright::survey {

struct Wanted {
    std::vector<Missing> missing;
    std::vector<std::vector<Ask>> asks;  // one each, reading by reading
};
Wanted missing_of(const State& state);

inline constexpr double open_counts = 100;

}  // namespace seatwright::survey
