// Readings to the heights of old seats (working.md B4), and which old seat a touch is taken on.
//
// ρ: how far an old seat lies below its drawing height along its guide's axis, mm; down positive. Its
// readings, the first that serves:
//   rest_z       −ρ_v = rest_z − m_v + ζ − κ_v, Z0 having been on the touched seat (ζ below)
//   recession    itself
//   below_deck   ρ = (T + q_r − T_drawing)/a_z, only where guide and deck normal are within 5 deg; q_r the
//   deck
//                cut where it was read after it, else 0
//   stem_height  ρ = h − h_drawing, read with a setting valve; a valve of its own would bring its face stock
//                and length in
// Without T_drawing or h_drawing the last two give differences within a kind alone.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/shape/before.hpp"

namespace seatwright::shape {

// Standard uncertainties, common practice: a depth gauge or height gauge by hand; a cutter resting on a seat.
inline constexpr double gauge_sd = 0.02, touch_sd = 0.03;

// A rod stands square to the deck: read on a steeper guide it tells too little of the axis (cos² of 5 deg).
inline constexpr double least_axis_squared = 0.992;

// ρ of a below_deck reading T. Angles do not enter but by a_z, the cosine between guide and deck normal.
double recession_of_below_deck(double below_deck, double cut_before_reading, double drawing, double axis_z);

// ρ_v of a rest_z reading, ζ as shape/zero.hpp has it.
double recession_of_rest(double rest_z, double map_z, double zeta, double rest);

struct Heights {
    std::vector<OldHeight> seats;  // head order
    // Per valve the one reading that would give its program a height to stand on; empty where nothing is
    // lacking for `depth.to` and `depth.from` (model.md, table of "Two plans").
    std::vector<Sentence> lacking;
    Notices notices;
};

// Heights of all seats of one head from its readings; `rests`: κ per valve. The touched seat of a kind in a
// setup is depth.zero_on (or the datum, from = "datum") if it is one of them, else the one nearest the middle
// of the row among those whose height is read, else among all.
Heights heights_of(const job::Job& job, const hold::Hold& hold, const std::vector<Before>& readings,
                   const std::vector<std::optional<double>>& rests);

}  // namespace seatwright::shape
