// One seat's readings to its proof.
#pragma once

#include <vector>

#include "seatwright/prove/prove.hpp"

namespace seatwright::prove {

// Vacuum that a dry, clean seat should hold with the pump running when the job gives no limit: 20 inHg
// (common practice).
inline constexpr double usual_vacuum_inhg = 20;
// What may be lost of it in 10 s, when the job does not say, with the pump shut off: 5 inHg from 25 (heavy
// diesel, common practice).
inline constexpr double usual_loss_inhg = 5;
inline constexpr double loss_seconds = 10;

// The least vacuum that is a pass, kPa: the job's, or the usual one.
double least_vacuum(const job::SeatForm& form);

// Everything about one seat but the causes. `readings` are all of this head and valve in the order of the
// file; several of one kind are repeats: their mean is judged and their scatter enters the uncertainty. The
// gauge's part of it comes from the readings that carry the value alone; it is taken as common to all of
// them, so the mean does not shrink it, and of different gauges the largest counts. The trace drawn and
// fitted is the last one. Warnings go to `notices`.
struct SeatResult {
    SeatProof proof;
    Notices notices;
};
SeatResult prove_seat(const job::Job& job, std::size_t valve,
                      const std::vector<const job::SeatAfter*>& readings);

}  // namespace seatwright::prove
