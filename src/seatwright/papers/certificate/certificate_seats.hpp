// The seats of one head on its certificate: a line each, and their traces in small.
#pragma once

#include "seatwright/papers/page/pages.hpp"
#include "seatwright/prove/prove.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::papers {

// A line a seat: value ± U and verdict of each characteristic.
void seats_part(Pages& paper, const job::Job& job, const prove::Proof& proof, const Speech& speech);

// The same for many seats, side by side in small letters: the judged values ± U with the verdict's mark. A
// width's mark is the worst of its mean and places, a vacuum's of level and loss. Coverage factors other than
// 2 are said once, from which to which.
void tight_seats_part(Pages& paper, const job::Job& job, const prove::Proof& proof, const Speech& speech);

// The traces, `side` mm of paper each; narrow ones are named by their seat alone.
void traces_part(Pages& paper, const job::Job& job, const prove::Proof& proof, LengthUnit unit, double side);

}  // namespace seatwright::papers
