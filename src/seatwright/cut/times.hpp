// How long one head takes, and how often a person is asked for something on the way.
#pragma once

#include "seatwright/cut/cut.hpp"
#include "seatwright/cut/files.hpp"
#include "seatwright/cut/seat_plan.hpp"
#include "seatwright/cut/sequence.hpp"

namespace seatwright::cut {

// Way down to the mouth where job and shelf do not give the lengths, for the time alone, mm.
inline constexpr double usual_way = 100;

// Fills seats' seconds, times, seconds_head and halts_head: every seat once, in cut's order, each as its file
// has it; what is held back counts as if it were cut.
void add_times(Cut& cut, const Known& known, const Sequence& sequence, const PlannedFiles& files);

}  // namespace seatwright::cut
