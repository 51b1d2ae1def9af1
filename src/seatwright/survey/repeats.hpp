// What repeats over the head, offered with the chance that it is chance.
//
// The chance: coordinates beyond those a repeat is fitted to, were each by chance anywhere in a window as
// wide as the thing could be elsewhere (the spacing for places, 10 mm for heights, 10 deg for leans, 20 mm
// across for rows), would all agree as well: (2·r/w)^n, r the largest left over or, where greater, twice what
// the readings could tell apart.
#pragma once

#include <vector>

#include "seatwright/survey/pattern.hpp"

namespace seatwright::survey {

std::vector<Repeat> repeats_of(const State& state, const std::optional<Pattern>& pattern);

}  // namespace seatwright::survey
