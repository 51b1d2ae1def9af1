// Out-of-round of a trace about the four reference circles of ISO 12181-1, in the limaçon approximation
// r(θ) ≈ R + a·cos θ + b·sin θ, which is exact for a dial trace to (eccentricity)²/(2·seat radius): 0.1 µm
// for 0.1 mm on a 50 mm seat.
#pragma once

#include "seatwright/base/fault.hpp"
#include "seatwright/base/numerics/turn.hpp"

namespace seatwright::numerics {

// A reference circle in the limaçon approximation: radius(θ) = radius + x·cos θ + y·sin θ.
struct ReferenceCircle {
    double radius = 0;
    double x = 0, y = 0;
    double out_of_round = 0;  // greatest less least of what is left
};

struct ReferenceCircles {
    ReferenceCircle ls, mz, mc, mi;
};

// ls: least sum of squares. mz: least width (minimum zone). mc: least R with every point inside or on it
// (minimum circumscribed). mi: greatest R with every point outside or on it (maximum inscribed). The last
// three are linear programs, solved to the optimum by exchange (docs/prove-roundness.md); their answers
// satisfy every constraint to 1e-12 of the trace's swing. When two opposite points alone carry a
// circumscribed or inscribed circle its centre is free sideways: the one of least out-of-round is taken, of
// several such the one nearest the turning axis, so that the answer does not depend on where the trace
// starts. Error: points of a half circle only (gap ≥ 180 deg), for which no inscribed circle exists, or fewer
// than four directions. Cost: some passes over the points; 0.7 ms for 3 600 (docs).
Solved<ReferenceCircles> reference_circles(const Turn& turn);

}  // namespace seatwright::numerics
