// The part of the setup sheet that speaks of seats: where, with what, how deep, how fast.
#pragma once

#include "seatwright/papers/sheet_page.hpp"
#include "seatwright/plan/plan.hpp"

namespace seatwright::papers {

// One table a setup: map (as found, where guides were touched), pilot, depth, Z, speed, feed, dwell.
void seat_tables(SheetPages& sheet, const job::Job& job, const plan::Plan& plan, LengthUnit unit);

// The section of each kind of seat, dimensioned, with its cutter.
void seat_sections(SheetPages& sheet, const job::Job& job, const plan::Plan& plan, LengthUnit unit);

// Cutters, order of work, time.
void cutting_words(SheetPages& sheet, const job::Job& job, const plan::Plan& plan, LengthUnit unit);

}  // namespace seatwright::papers
