// Guides that run into each other, or rows that lean into each other: an incline or cant of the wrong sign.
#pragma once

#include <cstddef>
#include <vector>

#include "seatwright/job/job.hpp"

namespace seatwright::job {

inline constexpr double one_row = 5;  // mm along y: guides nearer than this stand in one row

struct Crossing {
    std::size_t a = 0, b = 0;  // indices into job.head.valves, a < b
};

// From its seat a valve's stem, then its guide, runs into the casting against the axis: as far as
// guide.to_seat + guide.length (not known: 75 mm, common practice for a small head). Two cross where these
// bodies overlap (stem, then guide.outside or its bore), or where within one cylinder they lean towards each
// other along the head's side view and their axes meet there within that way: stems stand apart from each
// other in every head, since something must press on their tips. Pairs in head order.
std::vector<Crossing> crossings(const Job& job);

}  // namespace seatwright::job
