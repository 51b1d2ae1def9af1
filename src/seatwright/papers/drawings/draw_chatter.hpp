// Speed against the width of cut that stays free of chatter, with the point the seat is worked at.
#pragma once

#include "seatwright/cut/cut.hpp"
#include "seatwright/papers/page/svg.hpp"

namespace seatwright::papers {

struct ChartSize {
    double width = 150, height = 84;  // mm of paper
};

// The curve is the border: below it the cut is steady. The band is the speed that material and machine allow.
Drawing draw_chatter(const cut::ChatterChart& chart, LengthUnit unit, ChartSize size = {});

}  // namespace seatwright::papers
