// What the features found are of a head: valves with their guides and seats, bolt holes, plugs, chambers, in
// the head's frame.
#pragma once

#include "seatwright/scan/frame.hpp"
#include "seatwright/scan/scan.hpp"

namespace seatwright::scan {

struct Head {
    bool row_shown = false, kinds_known = true, bolts_in_doubt = false;
    std::size_t strays = 0;   // round walls seen over too little, of no guide
    std::size_t grooves = 0;  // cylinders seen over half a turn or less, with no seat: not taken
};

// Fills valves, holes, chambers, cylinders, repeats and what is not seen of `out`. False: nothing of a head
// is there, neither a guide nor a hole.
bool make_head(const Found& found, const Told& told, Scan& out, Head& head);

// Angles of a bore's axis in the head frame.
struct Lean {
    Figure incline, cant;
};
Lean lean_of(const FoundBore& bore, const Frame& frame);

// The parts of it, in this order.
void make_valves(const Plan& plan, Frame& frame, Scan& out, Head& head);
void make_holes(const Plan& plan, const Frame& frame, Scan& out, Head& head);
void make_chambers(const Found& found, const Frame& frame, Scan& out);

}  // namespace seatwright::scan
