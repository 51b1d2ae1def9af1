// What find keeps out of a program, and which reading frees it (working.md, "What blocks, what asks, what
// tells" and "A touch that is still wanted").
#pragma once

#include <vector>

#include "seatwright/find/setup.hpp"

namespace seatwright::find {

// Least chance of entering with which a valve goes into a program: cut.enter_min, else 0.99, or 0.90 where a
// person frees the float by hand over each mouth and so guides the tip.
double enter_min_of(const job::Job& job);

// Chance of entering once this guide itself is touched: its place then has the covariance C − C(C + sd²I)⁻¹C,
// and the pilot is sent to the middle of it.
double chance_when_touched(const FoundGuide& guide, double touch_sd, double positioning_sd);

// For one setup of one head. The whole setup: its fit failed (fit), the pattern as declared is rejected and
// no other way round fits either (fit), it lies another way round (way-round), two touches accuse each other
// or two guides have a touch set aside (suspect). A valve alone: a touch of it is set aside, nobody stands by
// one of its touches, and no two of them that agree outweigh it (suspect); its chance of entering is below
// enter_min_of or its place is a guess (touch-first, where a pilot is carried or live: a planted one is put
// in by hand).
std::vector<HeldBack> held_back_of(const job::Job& job, const SetupInput& input, const SetupOutcome& outcome);

}  // namespace seatwright::find
