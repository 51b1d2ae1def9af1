// What the level readings hold back: a setup in which guides were read and found off plumb, and a head of
// which they contradict each other.
#pragma once

#include <vector>

#include "seatwright/hold/hold.hpp"

namespace seatwright::hold {

// Mean lean of the guides read, both axes together; 0 where none was averaged.
double lean_of(const Level& level);

// Whether a guide of that setup was read.
bool read_there(const Level& level, const Setup& setup);

// The guide of that setup by whose name a lead lets the lean pass: of those named in `allow` ("plumb 1E") the
// first; else none.
std::optional<std::size_t> lean_let_pass(const job::Job& job, const Level& level, const Setup& setup);

// Held as `plumb`, whole setups: where the mean lean is more than fixture.plumb_limit every setup in which a
// guide was read, until it is set as the level says and read again, or a lead lets it pass by the name of a
// guide read there; readings that contradict each other hold every setup.
std::vector<HeldBack> held_by_level(const job::Job& job, const Level& level,
                                    const std::vector<Setup>& setups);

}  // namespace seatwright::hold
