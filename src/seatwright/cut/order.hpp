// In which order the seats are cut: every setup once, every cutter once a setup, and over that the fewest
// cutter changes, then the shortest path.
//
// A group is what one cutter (at one blade setting) cuts in one setup. Exact for up to 12 setups of up to 12
// groups each with up to 12 seats (any number on a line); beyond that the bound says how far off it may be.
// Steps: docs/cut-order.md. Lengths mm, over the map positions.
#pragma once

#include <cstddef>
#include <vector>

#include "seatwright/base/vec.hpp"

namespace seatwright::cut {

inline constexpr std::size_t exact_groups = 12;

struct Group {
    std::size_t setup = 0;  // setups are told apart by number; any numbers
    std::size_t tool = 0;   // cutter at a blade setting
    std::vector<Vec2> seats;
};

struct Visit {
    std::size_t group = 0;
    std::size_t seat = 0;  // in the group
    bool operator==(const Visit&) const = default;
};

struct Order {
    std::vector<Visit> visits;
    int changes = 0;          // of the cutter, after the first one is in
    double length = 0;        // of the moves from seat to seat, setup by setup
    int changes_bound = 0;    // no order has fewer
    double length_bound = 0;  // no order with `changes` changes is shorter
};

// Every group has at least one seat; a setup and tool pair appears once.
Order best_order(const std::vector<Group>& groups);

}  // namespace seatwright::cut
