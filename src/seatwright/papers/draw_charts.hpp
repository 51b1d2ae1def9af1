// A control chart: points with centre line and limits above, their spread below.
#pragma once

#include "seatwright/papers/svg.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::papers {

// `width` mm of paper, 62 high. Signals are triangles with the head's name; changes of cutter dashed
// uprights; a limit of the drawing is drawn where it falls inside the picture and named at the edge where it
// does not.
Drawing draw_chart(const prove::Series& series, double width, LengthUnit unit);

}  // namespace seatwright::papers
