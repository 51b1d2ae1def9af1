// Heights that cannot be: two readings of one old seat that contradict each other, a finished height far from
// the drawing's. Asked about once (job/doubts.hpp).
#pragma once

#include <vector>

#include "seatwright/job/doubts.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

// Two readings of one old seat agree within 2·√(u² + u²) = 0.072 mm (a gauge and a cutter at rest); twice
// that asks. Where three or more of a kind have both, each against the median of its kind, so that a drawing
// value or a setting valve that is off by the same on all of them asks nothing.
inline constexpr double most_apart = 0.15;  // mm

// Of seats whose height comes from one reading while another of them, taken with a setting valve, puts the
// seat elsewhere. The seat Z0 is touched on makes the whole head wait.
std::vector<job::Doubt> contradicting_heights(const job::Job& job, const Shape& shape);

// Of kinds (or single orders) to be finished more than most_recession below the drawing or most_proud above
// it, where the height is not typed as a recession (that is asked about where it stands) and the seat's own
// reading is not: a point left out of a height sinks seats nobody has read.
std::vector<job::Doubt> finish_doubts(const job::Job& job, const Shape& shape);

}  // namespace seatwright::shape
