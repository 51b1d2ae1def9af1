// A figure that two tables of readings of one seat or guide give, each otherwise. The last one counts, as
// where each gives figures of its own; which of two is right only a person knows.
#pragma once

#include <string>
#include <vector>

#include "seatwright/job/doubts.hpp"

namespace seatwright::job {

// One question a guide or seat; none where the last reading of the figure is confirmed by its own `sure`.
// Entries come doubled only where somebody called one a repeat or a file had both: of them it is asked alike.
std::vector<Doubt> repeated_guides(const Job& job, const std::string& head);
std::vector<Doubt> repeated_seats(const Job& job, const std::string& head);

}  // namespace seatwright::job
