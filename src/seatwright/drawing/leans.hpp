// How a bore leans, by the ellipse it is drawn as.
#pragma once

#include <optional>

#include "seatwright/drawing/marks.hpp"

namespace seatwright::drawing {

// A circle on a plane that leans by `size` is seen narrower by cos(size) along `way`. Where the guide is
// drawn beside its seat, or the circle leans in space, `way` is where the axis goes, out of the deck; else
// only up to its sign.
struct Lean {
    std::optional<double> size;  // rad; none: drawn round
    double u = 0;
    Vec2 way = Vec2::UnitY();  // on the sheet
    bool sign_known = false;
    bool agree = true;  // all ellipses of the mark say the same
};

// `u`: standard uncertainty of a length on the sheet, mm.
Lean lean_of(const Marks& marks, std::size_t mark, double u);

}  // namespace seatwright::drawing
