// Whether a setup lies askew of what is read in it. Two holes' Y make a setup's yaw and nothing checks them,
// but that its guides stand in rows along X, that guides levelled there stand plumb where they are read, and
// that a head lies along the table.
#pragma once

#include "seatwright/survey/state.hpp"

namespace seatwright::survey {

// What says so, a clause; empty if nothing does. `straightest`: the least yaw of all setups.
Sentence askew_words(const State& state, std::size_t setup, double straightest);

}  // namespace seatwright::survey
