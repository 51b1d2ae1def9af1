// Speed against the width of cut that stays free of chatter, with the points the seats are worked at.
#pragma once

#include <vector>

#include "seatwright/cut/cut.hpp"
#include "seatwright/papers/page/svg.hpp"

namespace seatwright::papers {

struct ChartSize {
    double width = 150, height = 84;  // mm of paper, to which a row a form is added
};

// All forms in one chart, its widths up to twice the widest in use. A curve is a form's border: below it the
// cut is steady. The band is the speeds that material and machine allow; `calm_rpm` (turns a minute) are
// ticks.
Drawing draw_chatter(const std::vector<cut::ChatterChart>& charts, const std::vector<double>& calm_rpm,
                     LengthUnit unit, ChartSize size = {});

}  // namespace seatwright::papers
