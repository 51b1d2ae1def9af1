// Geometric flow area of a conical seat against valve lift, for information.
// Source: Heywood, Internal Combustion Engine Fundamentals, 1988, section 6.3, eqs 6.7 to 6.9.
#pragma once

#include <optional>

#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

// Lengths mm, areas mm2, angles rad.
struct Curtain {
    double head = 0;   // D_v, valve head diameter
    double width = 0;  // w, of the seat, radial projection
    double angle = 0;  // β, of the seat, 0 < β < 90 deg
    double port = 0;   // D_p
    double stem = 0;   // D_s
};

// Lift L₁ = w/(sin β·cos β) at which the least area leaves the seat's outer edge, and L₂ at which the port
// less the stem is narrower than the curtain (never below L₁).
double second_regime(const Curtain& c);
double third_regime(const Curtain& c);

// Least area at that lift ≥ 0. The first regime's formula lies up to 0.5 % above the least frustum.
double flow_area(const Curtain& c, double lift);

// Curve to a lift of 0.35 valve diameters, by the kind's seat; the port is what the section leaves inside.
std::optional<Flow> flow_of(const job::Job& job, job::Kind kind);

}  // namespace seatwright::shape
