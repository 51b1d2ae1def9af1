// Touches that read as if they were typed in the other unit of length.
#pragma once

#include <vector>

#include "seatwright/hold/hold.hpp"
#include "seatwright/job/doubts.hpp"

namespace seatwright::hold {

// A coordinate further than this from where the map has the guide …
inline constexpr double far_off = 20;  // mm: no head lies so far from its zero
// … is asked about if in the other unit it comes as near as this.
inline constexpr double near_by = 6;  // mm: a yaw of half a degree over 400 mm, and the zero's own place

// Of the touches of `head` on named guides that nobody confirmed; at most one a touch.
std::vector<job::Doubt> touches_in_other_unit(const job::Job& job, const std::vector<Setup>& setups,
                                              const std::string& head);

}  // namespace seatwright::hold
