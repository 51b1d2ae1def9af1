// The seats of one cutter in one setup, ready to be written: Z zero taken, pilots chosen, stops worked out.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/cut/first_in_form.hpp"
#include "seatwright/cut/gate.hpp"
#include "seatwright/cut/pilot_windows.hpp"
#include "seatwright/cut/seat_plan.hpp"
#include "seatwright/cut/zeros.hpp"

namespace seatwright::cut {

struct ReadySeat {
    std::size_t seat = 0;    // place in SeatPlan::seats
    std::size_t shaped = 0;  // place in shape.seats
    std::size_t valve = 0;
    job::PilotUse use = job::PilotUse::carried;
    std::optional<std::size_t> pilot;
    std::optional<PilotStand> stand;  // none without a pilot
    double map_z = 0;                 // m
    double stop = 0;                  // s
    double depth = 0;                 // d; what it may be at the most where the old seat was not read
    bool depth_known = true;
    double u = 0;         // U of its Z
    double approach = 0;  // over the stop, where the slow way in ends
    ToolBelow below;
};

struct ReadyForm {
    FormInSetup form;
    shape::Zero zero;
    std::vector<ReadySeat> seats;  // first seat, one pilot after the other, the touched seat last
    FirstInForm first;             // its place is that in `seats`
    std::string restart;           // after a broken blade: what is cut and what is left
};

// None where Z zero cannot be taken or no seat is left: why is in the gate. `form.planned` is not empty.
std::optional<ReadyForm> ready_form(const Known& known, const SeatPlan& plan, FormInSetup form,
                                    const job::Selection& selection, Gate& gate);

}  // namespace seatwright::cut
