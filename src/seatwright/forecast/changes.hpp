// What helps most: every cause halved, one more touch, the blade changed sooner, another pilot, post, cutter
// or gauge of the shelf, each worked out on the points of the forecast itself.
#pragma once

#include "seatwright/forecast/forecast.hpp"
#include "seatwright/forecast/integrate.hpp"
#include "seatwright/forecast/prepared.hpp"

namespace seatwright::forecast {

struct ChangeTask {
    const job::Job& job;
    const plan::Plan& plan;
    const Prepared& as;
    const MadeBatch& made;
    const Effort& effort;  // of both sides, the same
    Tables& tables;
    std::function<void()> check = {};  // before each; what it throws ends it
};

// Best first; those that change nothing at all are left out. The gain's limits are 95 % of the computation:
// scatter over the scrambles of the difference on common points.
std::vector<Change> changes_of(const ChangeTask& task);

}  // namespace seatwright::forecast
