// Speed, feed, forces and dwell of every seat that is cut, worked out once for each form.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/cut/conditions.hpp"
#include "seatwright/cut/cut.hpp"
#include "seatwright/cut/known.hpp"

namespace seatwright::cut {

// One form with the cutter and pilot it is cut with.
struct WorkedForm {
    job::Kind kind = job::Kind::intake;
    std::optional<std::size_t> cutter, pilot;
    std::vector<Vec2> section;
    double total_width = 0;
    int blades = 1;
    Conditions conditions;
};

struct SeatPlan {
    std::vector<SeatCut> seats;       // head order, decision cut
    std::vector<std::size_t> shaped;  // place in shape.seats of each
    std::vector<WorkedForm> forms;    // in order of first use
    std::vector<Warning> warnings;    // each said once
};

SeatPlan plan_seats(const job::Job& job, const find::Find& find, const shape::Shape& shape);

}  // namespace seatwright::cut
