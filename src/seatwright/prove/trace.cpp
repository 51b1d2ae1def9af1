#include "seatwright/prove/trace.hpp"

#include "seatwright/base/units.hpp"

namespace seatwright::prove {

bool has_missing_stretch(const Turn& turn) {
    return turn.widest_gap > gap_worth_telling && turn.widest_gap > gap_in_steps * turn.usual_step;
}

bool half_unread(const Turn& turn) {
    constexpr double rounding = 1e-9;  // rad, of angles read in degrees
    return turn.widest_gap >= pi - rounding;
}

}  // namespace seatwright::prove
