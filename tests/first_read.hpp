// First seats of a plan's files, read as they are planned.
#pragma once

#include <vector>

#include "seatwright/plan/plan.hpp"

namespace seatwright::fixtures {

inline std::vector<job::FirstSeat> firsts_as_planned(const plan::Plan& plan) {
    std::vector<job::FirstSeat> out;
    for (const cut::Program& program : plan.cut.programs)
        for (const cut::Stop& stop : program.route.stops) {
            if (!stop.short_cut || stop.reads.by == cut::ShallRead::By::nothing) continue;
            job::FirstSeat reading{.head = program.route.head, .valve = stop.id};
            (stop.reads.by == cut::ShallRead::By::depth         ? reading.depth
             : stop.reads.by == cut::ShallRead::By::stem_height ? reading.stem_height
                                                                : reading.below_deck) = stop.reads.value;
            out.push_back(reading);
        }
    return out;
}

}  // namespace seatwright::fixtures
