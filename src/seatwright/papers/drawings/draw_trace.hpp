// A seat's runout trace: polar with its reference circles, and its harmonics as bars.
#pragma once

#include "seatwright/papers/page/svg.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::papers {

enum class TraceDetail {
    full,  // circles named, scale stated, eccentricity arrow
    small  // trace, least-squares circle and scale only, for the certificate
};

struct TraceView {
    double side = 90;  // mm of paper, width; the full drawing is taller by its legend
    TraceDetail detail = TraceDetail::full;
    LengthUnit unit = LengthUnit::mm;
};

// Deviations are enlarged to fill the ring; the step between rings is written. Angle 0 to the right, growing
// anticlockwise as seen from above. A seat without a trace gives a drawing that says so.
Drawing draw_trace(const job::Job& job, const prove::SeatProof& seat, const TraceView& view);

// Amplitudes of orders 1 to 15 with their standard uncertainty as whiskers.
Drawing draw_harmonics(const job::Job& job, const prove::SeatProof& seat, double width, LengthUnit unit);

}  // namespace seatwright::papers
