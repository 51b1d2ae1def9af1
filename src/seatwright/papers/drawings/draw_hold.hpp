// The head in its fixture at a setup's attitude: seen from the end (tilt) and from the front (swing).
#pragma once

#include "seatwright/base/units.hpp"
#include "seatwright/hold/hold.hpp"
#include "seatwright/papers/page/svg.hpp"

namespace seatwright::papers {

enum class Seen {
    from_end,   // from +X along the table: machine Y to the right, Z up
    from_front  // from −Y: machine X to the right, Z up
};

struct HoldView {
    double width = 60;   // mm of paper
    double height = 62;  // from the front at most; a long head takes less
    Seen seen = Seen::from_end;
    LengthUnit unit = LengthUnit::mm;
};

// True projection of the implied casting, fixture posts and cradle at the setup's tilt and swing, to scale.
// The axes of the setup's guides are drawn through to the spindle (plumb where it can be), those of other
// setups faint. The angle of the deck is dimensioned; where the head would slide when released the caution is
// drawn on it: an arrow down the slope and what to do.
Drawing draw_hold(const job::Job& job, const hold::Hold& hold, std::size_t setup, const HoldView& view);

}  // namespace seatwright::papers
