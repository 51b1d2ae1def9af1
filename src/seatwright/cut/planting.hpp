// Planted pilots that stand in each other's way: which stand at once, and how high the tool passes over them.
//
// m's frame of the setup, mm. A tool at the stop of one seat, its body `body` across from its lowest point
// up, must not meet a pilot planted in another guide; where it would, the two are planted in turns. One turn
// is one file.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/vec.hpp"
#include "seatwright/cut/pilot_windows.hpp"

namespace seatwright::cut {

struct Planted {
    Vec2 at = Vec2::Zero();
    double gauge_plane = 0;    // of the finished seat: m + s
    double top_most = 0;       // PilotStand::top_most, over that plane
    double diameter = 0;       // of the pilot
    std::size_t pilot = 0;     // which of the shelf
    std::optional<int> count;  // how many of it the shop has
};

// Turn of each, from 0, as few as a greedy walk along the row finds; no two of one turn in each other's way,
// no turn with more pilots of one kind than the shop has.
std::vector<int> planting_turns(const std::vector<Planted>& planted, double body, double lowest);

}  // namespace seatwright::cut
