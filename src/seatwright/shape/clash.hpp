// What is left between each seat at its planned depth, its ring and its cutter, and everything beside it.
#pragma once

#include <vector>

#include "seatwright/shape/cutter.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

// Fills bridge, bridge_to, cutter_clearance and cutter_clearance_to of every seat that has a section, and
// says what is too near: a form or ring that runs into a bore, a ring or another seat, and a blade or a
// cutter's body that would strike one, are held back (clash); less than depth.bridge_min is a note.
Notices judge_clashes(const job::Job& job, const job::PerKind<CutterChoice>& choice,
                      std::vector<Seat>& seats);

}  // namespace seatwright::shape
