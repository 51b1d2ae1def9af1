// How long the cutter stays at depth after the feed stops.
//
// While feeding, thrust presses spindle and head apart by x0 = thrust/k. When the feed stops each turn leaves
// x_n = x0·(K/(K + k))^n, K = thrust/f the form's axial cutting stiffness, k the machine's axial stiffness.
// Lengths mm, forces N, stiffness N/mm.
#pragma once

#include <optional>

namespace seatwright::cut {

// What may be left of the deflection: a tenth of the usual depth step of 0.01 mm, well below what an
// indicator shows.
inline constexpr double dwell_residue = 0.001;
// A whole turn is needed in any case to clear the spiral the feed leaves.
inline constexpr double least_dwell_turns = 1;
// When the machine's axial stiffness is not known: common practice is 1 to 3 turns for a form blade.
inline constexpr double usual_dwell_turns = 2;
// More than this rubs and hardens the face and may start chatter; common practice stays below 3.
inline constexpr double most_dwell_turns = 10;

struct Deflection {
    double start = 0;  // x0
    double ratio = 0;  // left of it after each turn, K/(K + k), in 0..1
};

// thrust >= 0, feed > 0, axial_stiffness > 0.
Deflection deflection_of(double thrust, double feed, double axial_stiffness);

// Whole turns until no more than `residue` is left, at least least_dwell_turns; not capped.
double dwell_turns_for(const Deflection& deflection, double residue);

}  // namespace seatwright::cut
