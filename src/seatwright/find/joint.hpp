// The chance that every guide of a head is hit at once when all share one unknown yaw and offset.
//
// Given yaw error θ and offset error t the guides are independent, each off by its own round normal of
// standard deviation s_v (casting scatter and positioning), so
//   P = ∫∫∫ Π_v F_v(|o_v + t + θ·J m_v|) dN(t) dN(θ),
// F_v(ρ) the chance that a round normal a distance ρ from the centre of a disc of radius c_v lies inside it
// (1 − Q₁(ρ/s, c/s)), m_v the arm from the point the yaw turns about, o_v the distance already known
// (rounding to the readout), J the quarter turn. F is tabulated (hit_table.hpp) and the three outer integrals
// use the trapezoidal rule, which converges geometrically for such smooth integrands once its step is below
// the width of the edge of F. Accuracy 1e-4 where s_v is at least a tenth of the standard deviation of t and
// θ·|m|, and 1e-5 where it is at least a third. Where an edge is sharper than a tenth of the offset's spread,
// t is integrated along rays (joint_rays.hpp) and θ by Gauss's rule on panels to either side of none, where
// the overlap of two discs bends: one guide then agrees with its closed form to 2e-5, two sharp discs with
// their chords to 1.5e-4, eight with simulated heads within 1e-4 and the scatter of 200 000 (tests). Edges
// sharper than a thousandth of the spread are taken as that.
#pragma once

#include <span>

#include "seatwright/base/vec.hpp"

namespace seatwright::find {

struct Target {
    Vec2 arm = Vec2::Zero();    // m_v as it lies, readout
    Vec2 known = Vec2::Zero();  // o_v
    double sd = 0;              // s_v, per axis
    double clearance = 0;       // c_v
};

// Step of the trapezoidal rule in widths of F's sharpest edge: its error falls as exp(−2π²/step²). The rough
// step costs a third of the fine one and is good to 1e-4 of an edge's own probability.
inline constexpr double fine_step = 1.0, rough_step = 1.4;

// `offset_sd` per axis, `yaw_sd` in rad. 1 for no targets.
double joint_probability(std::span<const Target> targets, double offset_sd, double yaw_sd,
                         double step_in_edges = fine_step);

}  // namespace seatwright::find
