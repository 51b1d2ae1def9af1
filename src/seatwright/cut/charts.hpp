// What is drawn and assumed beside the plan: stable widths over speed, calm speeds, the sentences of what is
// taken for granted.
#pragma once

#include "seatwright/cut/seat_plan.hpp"

namespace seatwright::cut {

void add_calm(Cut& cut, const job::Job& job, const SeatPlan& plan);
void add_charts(Cut& cut, const job::Job& job, const SeatPlan& plan);
void add_assumptions(Cut& cut, const job::Job& job, const shape::Shape& shape);

}  // namespace seatwright::cut
