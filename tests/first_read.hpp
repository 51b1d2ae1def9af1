// First seats of a plan's files, read as they are planned.
#pragma once

#include <vector>

#include "seatwright/plan/plan.hpp"

namespace seatwright::fixtures {

inline std::vector<job::FirstSeat> firsts_as_planned(const plan::Plan& plan) {
    std::vector<job::FirstSeat> out;
    for (const cut::Program& program : plan.cut.programs)
        for (const cut::ToMeasure& one : cut::to_measure(program.route)) {
            job::FirstSeat reading{.head = program.route.head, .valve = one.valve};
            (one.figure == job::FirstFigure::depth         ? reading.depth
             : one.figure == job::FirstFigure::stem_height ? reading.stem_height
                                                           : reading.below_deck) = one.planned;
            out.push_back(reading);
        }
    return out;
}

}  // namespace seatwright::fixtures
