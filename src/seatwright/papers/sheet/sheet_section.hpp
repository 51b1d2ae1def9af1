// The section a kind of seat is cut to, dimensioned for the bench.
#pragma once

#include "seatwright/papers/page/svg.hpp"
#include "seatwright/plan/plan.hpp"

namespace seatwright::papers {

struct SectionView {
    double width = 92;  // mm of paper
    double height = 56;
    LengthUnit unit = LengthUnit::mm;
};

// One side of the seat cut through the guide axis: facets with angle and width, contact, gauge and inner
// diameter, the cutter and its setting.
Drawing draw_seat_form(const job::Job& job, const shape::Seat& seat, const SectionView& view);

}  // namespace seatwright::papers
