// A finished height asked for, as the finished recession f: how far the gauge circle ends below its drawing
// height along the guide (working.md B3).
//
//   recession    f = it
//   below_deck   f = (T − T_drawing + q)/a_z, T below the new deck, T_drawing below the drawing's
//   stem_height  f = h_wanted − h_drawing; where the valve that goes back in was read on its own old seat
//                of known ρ: f = ρ + h_wanted − h_read
#pragma once

#include <optional>
#include <string>

#include "seatwright/shape/before.hpp"

namespace seatwright::shape {

double finish_of_below_deck(double wanted, double drawing, double deck_cut, double axis_z);

struct FinishAt {
    std::optional<double> recession;  // f
    std::string missing;              // else the key of the figure that is lacking: "seat.intake.below_deck"
};
FinishAt finish_at(const job::Job& job, const job::Valve& valve, const job::Finish& finish,
                   const Before& before, const OldHeight& height);

// What a person decided for one seat, if anything; the last entry of the file counts.
const job::SeatOrder* order_of(const job::Job& job, const std::string& valve);

// The finished height of that valve: by hand, else its kind's where the plan is to one height; none where the
// plan is by cleanup, or its depth is decided by hand.
std::optional<job::Finish> finish_wanted(const job::Job& job, const job::Valve& valve);

}  // namespace seatwright::shape
