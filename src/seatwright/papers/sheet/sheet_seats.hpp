// The part of the setup sheet that speaks of seats: where, with what, how deep, how fast.
#pragma once

#include "seatwright/papers/page/pages.hpp"
#include "seatwright/plan/plan.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::papers {

// One table a setup: map (as found, where guides were touched), pilot, depth, Z, speed, feed, dwell.
void seat_tables(Pages& sheet, const job::Job& job, const plan::Plan& plan, LengthUnit unit);

// The same for many seats: rows side by side in small letters, and what all seats of a kind share (pilot,
// speed, feed, dwell) said once under the table. Every seat keeps its place, its chance and its depth.
void tight_seat_table(Pages& sheet, const job::Job& job, const plan::Plan& plan, const Speech& speech);

// The section of each kind of seat, dimensioned, with its cutter; `height` mm of paper.
void seat_sections(Pages& sheet, const job::Job& job, const plan::Plan& plan, LengthUnit unit, double height);

// Cutters, order of work, time.
void cutting_words(Pages& sheet, const job::Job& job, const plan::Plan& plan, const Speech& speech);

}  // namespace seatwright::papers
