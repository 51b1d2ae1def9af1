// Which pilot each guide takes, how it holds there, and whether the guide is fit to lead a seat.
//
// Guide of length L read at depth 0 (top), L/2, L below its top. A fixed tapered pilot of size d at its gauge
// line (the large end of its grip, as a taper's gauge line is) has diameter d − taper·z a distance z below
// it; pushed in, its gauge line comes to rest at the depth
//   g = min over the readings of z + (bore(z) − d)/taper
// below the guide top, held at the reading that gives the minimum. It suits when it enters so far that
// 0 ≤ g ≤ L: it passes the bottom reading and locks with the gauge line below the top. A live pilot, or a
// fixed one without taper, suits when its clearance, least reading less size, is not below 0. Of all that
// suit, the largest is taken (the first on the shelf among equals).
// Play at the seat (radius) = clearance·(1/2 + h/L), h = guide top to gauge plane; 0 for a pilot that locks.
// With no reading the pilot is the largest on the shelf not above the drawing bore, and play is reckoned
// with that bore. Lengths mm.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/find/find.hpp"

namespace seatwright::find {

// Sizes agree to this (mm): a hundredth of the finest gauge's step, above the rounding of inch sizes.
inline constexpr double size_tolerance = 1e-6;

enum class BoreShape { straight, tapered, bell_top, bell_bottom, hourglass, barrel };

// How the bore is worn, differences below `limit` (diameter) not counted.
BoreShape bore_shape(const job::GuideBore& read, double limit);
// By how much the wider end is larger than the middle (diameter), 0 if neither is.
double bell_mouth(const job::GuideBore& read);

struct Fit {
    bool suits = false;
    double clearance = 0;              // diameter; 0 when locked
    std::optional<double> lock_depth;  // of the gauge line below the guide top
    std::optional<double> held_at;     // depth below the guide top where it is held
};
Fit fit_pilot(const job::Pilot& pilot, const job::GuideBore& read, std::optional<double> length);

// The choice for one valve; `read` may be null.
PilotChoice choose_pilot(const job::Job& job, std::size_t valve, const job::GuideBore* read);

// The choice for one valve of that head, by the head's own guide readings, the last of each guide: as it was
// found or, where nothing of it is touched, made now. What another head's guides read is nothing to it.
PilotChoice pilot_of(const job::Job& job, const Find& find, const std::string& head, std::size_t valve);
// The same for all its valves, head order.
std::vector<PilotChoice> pilots_of(const job::Job& job, const Find& find, const std::string& head);

// (mouth − tip)/2 of the pilot chosen, by the drawing's mouth; none when either is not known.
std::optional<double> entry_clearance(const job::Job& job, const PilotChoice& choice);

}  // namespace seatwright::find
