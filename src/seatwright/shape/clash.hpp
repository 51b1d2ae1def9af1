// What is left between each seat at its planned depth, its ring and its cutter, and everything beside it;
// and guides that cannot both be where they are said to be.
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

struct Crossing {
    std::size_t a = 0, b = 0;  // valves, head order
    double apart = 0;          // of their axes
    double room = 0;           // sum of the radii of their bores: apart is less
};

// Pairs of guides of one head whose bores run into each other: axes, from the seat (the stem stands there) to
// the far end of the guide, nearer than the radii of their bores together. A guide whose drawing leaves out
// to_seat or length counts to 80 mm below its seat (common practice: stems are longer); one without a bore
// has its stem's diameter, or 5 mm.
std::vector<Crossing> crossing_guides(const job::Job& job);

// Each such pair is a doubt that holds both valves back until somebody is sure: `sure` has "guides 1I 1E
// cross", the two in either order.
Notices doubt_crossings(const job::Job& job);

}  // namespace seatwright::shape
