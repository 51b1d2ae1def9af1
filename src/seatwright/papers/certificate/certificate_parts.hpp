// Parts that a head's and a batch's certificate share.
#pragma once

#include "seatwright/papers/page/pages.hpp"
#include "seatwright/prove/prove.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::papers {

// Limits of each characteristic by kind, where each comes from, and those that nothing is claimed of.
void limits_part(Pages& paper, const job::Job& job, const prove::Proof& proof, const Speech& speech);
// How far the stem heights of each kind lie apart.
void spreads_part(Pages& paper, const job::Job& job, const prove::Proof& proof, const Speech& speech);
// What failed, is undecided or was not measured, and what would settle it; deviations accepted and by whom.
// At most that many lines, and how many more stand in the record.
void open_part(Pages& paper, const job::Job& job, const prove::Proof& proof, std::size_t most_lines,
               const Speech& speech);
// Who measured, when, with what, when that was calibrated: a line for each person and gauge.
void people_part(Pages& paper, const job::Job& job, const prove::Proof& proof, std::size_t most_lines,
                 const Speech& speech);
void signature_part(Pages& paper);

}  // namespace seatwright::papers
