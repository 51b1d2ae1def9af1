// Where valves stand at equal distances along a row, and where one of them is not seen.
#pragma once

#include <vector>

#include "seatwright/base/vec.hpp"

namespace seatwright::scan {

struct Slot {
    Vec2 at = Vec2::Zero();
    double bore = 0, seat = 0;  // radii; alike ones are equal to the last bit
};

// Places that like valves, repeating at the spacing of the others, leave empty. None where fewer than three
// of a kind show a spacing, or where they do not all keep it to a millimetre.
std::vector<Slot> empty_slots(const std::vector<Slot>& seen);

}  // namespace seatwright::scan
