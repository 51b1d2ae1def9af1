// Whether a file's moves, with the places it loads and measures at, fit into what the machine travels.
//
// Lengths mm, places in the readout; counted from the setup's datum, where X, Y and Z0 lie.
#pragma once

#include <optional>
#include <string>

#include "seatwright/cut/route.hpp"
#include "seatwright/job/job.hpp"

namespace seatwright::cut {

struct BeyondTravel {
    Sentence reason;
    Sentence frees;  // the key that frees it
};

// Empty: it fits, or the machine's travel is not given. A place that alone is too far is named before the
// seats are.
std::optional<BeyondTravel> beyond_travel(const job::Job& job, const Route& route);

}  // namespace seatwright::cut
