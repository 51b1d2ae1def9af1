// The decision on a runout: what a zero that slipped, or a part of the turn that was not read, leaves of it.
#pragma once

#include "seatwright/prove/prove.hpp"

namespace seatwright::prove {

// What is doubtful about the traces a runout is the mean of.
struct TraceDoubt {
    double shift = 0;     // mm: the slips found may have moved the mean by this much either way
    bool partly = false;  // one of them was not read over half the circle or more
};

// Sets verdict and decider of a runout with a value. A slip counts only where it matters: the decision is
// taken with the value, and with the value moved by the shift up and down; where the three differ it is
// undecided. Over a part of the turn the swing seen is the least it can be: a fail stays a fail, all else is
// undecided.
void decide_runout(Judgement& runout, const TraceDoubt& doubt);

}  // namespace seatwright::prove
