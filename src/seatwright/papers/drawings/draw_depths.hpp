// Depth bars: for every valve what it needs, what it gets and what it may have at most.
#pragma once

#include "seatwright/base/units.hpp"
#include "seatwright/papers/page/svg.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::papers {

struct DepthsStyle {
    double width = 130;
    double row = 4.6;  // mm of paper a valve; the drawing's height follows
    LengthUnit unit = LengthUnit::mm;
};

Drawing draw_depths(const job::Job& job, const shape::Shape& shape, const DepthsStyle& style = {});

}  // namespace seatwright::papers
