// Places and axes of the drawing that do not go together: guides that cross, a seat above the deck or far in
// height from the others, a guide that leans otherwise than its row.
#pragma once

#include <vector>

#include "seatwright/job/doubts.hpp"

namespace seatwright::job {

// Of the stage hold; those that `sure` confirms are left out. Where the figure places more than its own seat
// (Z0 may be taken on it) the doubt names no valve, so that the whole head waits.
std::vector<Doubt> doubts_of_places(const Job& job);

}  // namespace seatwright::job
