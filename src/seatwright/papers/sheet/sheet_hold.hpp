// The part of the setup sheet that speaks of holding: each setup drawn in its fixture, and its figures.
#pragma once

#include "seatwright/hold/hold.hpp"
#include "seatwright/papers/page/pages.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::papers {

// Which setups are drawn where there are many: from the end all, or up to four, the steepest ones; from the
// front all, or the one swung furthest each way. What is left out is said.
enum class HoldViews { all, fewer, fewest };

void hold_views(Pages& sheet, const job::Job& job, const hold::Hold& hold, const Speech& speech,
                HoldViews views);

// A row a setup: tilt, swing, plumb, datum, travel to spare, slope, what it does when released. Many setups
// stand side by side, with the least travel to spare said of all.
void hold_table(Pages& sheet, const job::Job& job, const hold::Hold& hold, const Speech& speech);

}  // namespace seatwright::papers
