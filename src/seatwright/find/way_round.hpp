// A head put on its fixture end for end, where neither touches nor pilots could tell.
#pragma once

#include <optional>
#include <span>

#include "seatwright/find/pose.hpp"
#include "seatwright/hold/hold.hpp"
#include "seatwright/job/doubts.hpp"

namespace seatwright::find {

// Turned end for end, a guide that leans by more than this takes no pilot, so that the touches would not have
// been made: 1 deg is 1 mm over a guide's length (from memory).
inline constexpr double takes_no_pilot = rad(1);

// A question about that setup: turned end for end its guides look the same within casting scatter and
// `touch_sd`, all of them stand plumb within takes_no_pilot, and a valve comes to lie where one of the other
// kind is taken to be. None otherwise, and none once `sure` holds "head.lies = as declared". `guides`: as
// setup.valves. The other-hand casting is another drawing (head.mirror), and no question of how it lies.
std::optional<job::Doubt> way_round_doubt(const job::Job& job, const hold::Setup& setup,
                                          std::span<const Expected> guides, double touch_sd);

}  // namespace seatwright::find
