// Which of the bores found are guides, and which holes.
#pragma once

#include <vector>

#include "seatwright/scan/find.hpp"

namespace seatwright::scan {

inline Vec3 on_axis(const FoundBore& b, double along) {
    return b.fit.cylinder.at + along * b.fit.cylinder.axis;
}

// Those found; a throat or a counterbore of a valve is none of them.
struct Sorted {
    std::vector<const FoundBore*> guides, short_guides, holes;
    std::vector<const FoundBore*> grooves;  // seen over half a turn or less, with no seat: not taken
    std::size_t part = 0;                   // of those seen over too little, how many are guides
};
Sorted sorted(const Found& found);

}  // namespace seatwright::scan
