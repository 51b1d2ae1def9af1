// What a survey found, in its own words: from the solution to valves, holes, setups and sizes. Figures that
// are left open have no value; the readout's signs and a head turned end for end are turned back.
#pragma once

#include <vector>

#include "seatwright/survey/state.hpp"

namespace seatwright::survey {

// By cylinder, then along X.
std::vector<Valve> valves_of(const State& state);
// Bolt holes are the many of one size, plugs those with "plug" in their name.
std::vector<Hole> holes_of(const State& state);
std::vector<Setup> setups_of(const State& state);
// The sensor's own zero where it was turned round, else what it reads too much of the cradle's tilt.
Figure zero_of(const State& state);
// Means over the guides of a kind, weighted by their sds.
std::vector<SizeFound> sizes_of(const Readings& readings);

}  // namespace seatwright::survey
