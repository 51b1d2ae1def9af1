// What a head is held to as a whole, beside what each of its seats is.
#pragma once

#include <vector>

#include "seatwright/prove/prove.hpp"

namespace seatwright::prove {

// Of each head and kind whose stem heights were read, how far they lie apart, against stem_spread of the job.
// U is √2 times the largest U of these readings. While seats of that kind have no reading it can fail but not
// pass: then it is left out. `seats` by head.
std::vector<StemSpread> stem_spreads(const job::Job& job, const std::vector<SeatProof>& seats);

// Limits of the job that no reading after cutting is held against: nothing is claimed of them.
std::vector<NotJudged> not_judged(const job::Job& job, const std::vector<SeatProof>& seats,
                                  const std::vector<StemSpread>& spreads);

// For each spread that did not pass, in words.
void say_spreads(Notices& notices, const job::Job& job, const std::vector<StemSpread>& spreads);

}  // namespace seatwright::prove
