// Where the variation over heads comes from, and what the seats measured so far let one claim.
#pragma once

#include <vector>

#include "seatwright/prove/measured.hpp"

namespace seatwright::prove {

// Mean and scatter of every valve position over the heads, and in how many heads it was the worst of its kind
// (largest runout or stem height, width furthest from nominal). Needs two heads.
std::vector<Position> positions_of(std::vector<Characteristic>& all, const std::vector<std::string>& heads);

// Crossed random effects value = mean + head + position + rest, by the analysis of variance of the heads in
// which every position of the kind was measured (no interaction; components estimated negative are 0).
// Cutters split the heads, valves that lean alike (one setup) split the positions, pilots split the rest,
// each where there are several. Needs three such heads and two positions.
std::vector<Component> components_of(const job::Job& job, std::vector<Characteristic>& all);

Sampling sampling_of(const Counted& seats);

}  // namespace seatwright::prove
