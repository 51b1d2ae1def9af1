// The seats that can be programmed, in the order they are cut, and the route of each setup.
#pragma once

#include <vector>

#include "seatwright/cut/cut.hpp"
#include "seatwright/cut/order.hpp"
#include "seatwright/cut/seat_plan.hpp"

namespace seatwright::cut {

struct Sequenced {
    std::size_t seat = 0;   // place in SeatPlan::seats
    std::size_t setup = 0;  // index into hold.setups
    std::size_t tool = 0;   // place in Sequence::tools
};

struct Sequence {
    std::vector<Sequenced> stops;
    std::vector<Tool> tools;
    int changes = 0;
    double path = 0, path_bound = 0;
    std::vector<Warning> warnings;  // what had to be left out
};

Sequence sequence_seats(const job::Job& job, const hold::Hold& hold, const shape::Shape& shape,
                        const SeatPlan& plan);

}  // namespace seatwright::cut
