// A control chart: points with centre line and limits above, their spread below.
#pragma once

#include "seatwright/papers/page/svg.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::papers {

// `width` mm of paper from 80, 55 high. Signals are triangles; changes of cutter dashed uprights; a limit of
// the drawing is drawn where it falls near the points and named under the title where it does not.
Drawing draw_chart(const prove::Series& series, double width, LengthUnit unit);

}  // namespace seatwright::papers
