// What the features found are of a head: valves with their guides and seats, bolt holes, plugs, in the head's
// frame.
#pragma once

#include "seatwright/scan/find.hpp"
#include "seatwright/scan/scan.hpp"

namespace seatwright::scan {

// A guide that is there and gives no axis, or that the others' pattern says is there and is not seen.
struct NotSeen {
    std::string id;
    Vec2 at = Vec2::Zero();  // about where, in the head frame
    double length = 0, arc = 0;
    bool expected = false;  // only by the pattern
};

struct Head {
    std::vector<NotSeen> not_seen;
    bool row_shown = false, kinds_known = true, bolts_in_doubt = false, seats_seen = true;
    std::size_t strays = 0;   // round walls seen over too little, of no guide
    std::size_t grooves = 0;  // cylinders seen over half a turn or less, with no seat: not taken
};

// Fills valves, holes, cylinders and repeats of `out`. False: nothing of a head is there, neither a guide nor
// a hole.
bool make_head(const Found& found, const Told& told, Scan& out, Head& head);

}  // namespace seatwright::scan
