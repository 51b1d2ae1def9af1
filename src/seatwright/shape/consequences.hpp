// What a depth brings with it: stem height, recession, tip grind, shims, chamber and compression; and where
// the spindle must stop for it.
//
// Lengths mm, volumes mm3.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/shape/before.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

// Fills stem height, recession and tip grind of a seat with a depth or a finished height, and with a depth
// shims and removed volume.
void add_consequences(const job::Job& job, const job::SeatForm& form, const Before& before, Seat& seat);

// The stock shim (or none) nearest to what the spring has gained in length; of two as near the thinner, which
// keeps further from coil bind.
double spring_shim_for(double gain, const std::vector<double>& stock);

// How much thinner the lash shim must be: whole steps, never less than the depth, so that the lash never
// closes.
double lash_shim_for(double depth, double step);

// Height of the setup's program zero above the datum valve's seat as drawn: 0, or with depths from the deck
// where the datum's guide axis pierces the deck (cut by q), so far along the spindle.
double program_zero(const job::Job& job, const hold::Setup& setup);

struct StopAt {
    std::optional<double> z;          // from the reference job.depth.from names
    std::optional<double> program_z;  // in the setup's program coordinates; none when it is in no setup
};
// From seat.stop_s. touch: z −depth. deck: along the guide axis from the deck (cut by q already) (P_z +
// q)/a_z + s. datum: map z − depth. In program coordinates: map z + s − program_zero, and where Z0 is on the
// datum's old seat + that seat's recession.
StopAt stop_at(const job::Job& job, const hold::Hold& hold, const HeadBefore& before, const Seat& seat);

// Every cylinder with a chamber reading or a planned seat. Compression (swept + chamber)/chamber.
std::vector<Chamber> chambers_of(const job::Job& job, const HeadBefore& before,
                                 const std::vector<Seat>& seats);

}  // namespace seatwright::shape
