// The work card on paper: large enough to be read at arm's length, with room to write and a square to tick.
#pragma once

#include <vector>

#include "seatwright/papers/page/pages.hpp"
#include "seatwright/papers/sheet/card.hpp"
#include "seatwright/plan/walk.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::papers {

// One block: file names and how Z0 is taken on top, in large letters, then a row a seat. Where the control
// reads files (machine.runs) the target is large and X, Y, Z small; where positions are typed the other way
// round.
void card_on_sheet(Pages& sheet, const job::Job& job, const CardBlock& block, const Speech& speech);

// Every step of the head in order, as the screen leads through them; those that are done say so.
void walk_on_sheet(Pages& sheet, const std::vector<plan::WalkStep>& walk, const Speech& speech);

// Depths as planned beside depths made anew, with a box to tick for the one chosen.
void two_ways_on_sheet(Pages& sheet, const job::Job& job, const shape::PlanAnew& ways, const Speech& speech);

// The lead's words that stand behind this sheet; nothing where there are none.
void let_pass_on_sheet(Pages& sheet, const job::Job& job, const Speech& speech);

// What is cut, begun and left of a head whose blade broke: a box each, with the file made since.
void restarts_on_sheet(Pages& sheet, const cut::Cut& cut, const Speech& speech);

// Figures that look odd and that somebody stands by, with who and when.
void stood_by_on_sheet(Pages& sheet, const job::Job& job, const std::string& head, const Speech& speech);

// What is left out, by name, with the reason and what frees it.
void held_back_on_sheet(Pages& sheet, const std::vector<HeldBack>& held_back, const Speech& speech);

}  // namespace seatwright::papers
