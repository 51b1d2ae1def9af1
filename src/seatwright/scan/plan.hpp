// What was found, seen square to the deck as a drawing shows it: a mark for every valve and hole, and the
// cylinders they make.
#pragma once

#include <string>
#include <vector>

#include "seatwright/drawing/layout.hpp"
#include "seatwright/scan/sorted.hpp"

namespace seatwright::scan {

struct Plan {
    Sorted sorted;
    drawing::Marks marks;             // sorted.guides, short_guides, places left empty, holes: in this order
    std::vector<std::string> groups;  // names of the marks' groups: "valve", or "" of holes
    drawing::Layout layout;
    std::size_t known = 0;   // marks of valves that are seen, well or not
    std::size_t valves = 0;  // and of those that the others' spacing puts somewhere
    bool seats_seen = false;

    // Where the valve stands on its axis: at its gauge circle, else at the height of those like it, else
    // where the axis comes out of the deck. From the middle of its bore, along its axis.
    double along_of(const FoundBore& bore) const;
    // The hole of a mark behind the valves'.
    const FoundBore& hole(std::size_t mark) const { return *sorted.holes[mark - valves]; }
};

Plan plan_of(const Found& found);

}  // namespace seatwright::scan
