// What a lead lets pass (`allow`), by its words: "guide 1I", "below finish 3I", "plumb 1E", "trim 3I".
#pragma once

#include <string_view>

#include "seatwright/job/job.hpp"

namespace seatwright::job {

// The first of those words; null: nobody lets it pass.
const Allowance* allowance_of(const Job& job, std::string_view what);

}  // namespace seatwright::job
