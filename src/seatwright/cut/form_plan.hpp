// The seats of one cutter in one setup, ready to be written: Z zero taken, pilots chosen, stops worked out.
//
// Where changing a carried or live pilot takes the cutter off the spindle, and Z0 with it, the seats that one
// pilot leads are a form of their own: with a Z0 taken with that pilot in the guide, their own first seat and
// trim.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/cut/first_in_form.hpp"
#include "seatwright/cut/form_pilots.hpp"
#include "seatwright/cut/gate.hpp"
#include "seatwright/cut/seat_plan.hpp"

namespace seatwright::cut {

struct ReadyForm {
    FormInSetup form;
    shape::Zero zero;
    ZeroPilot zero_pilot;
    std::vector<ReadySeat> seats;  // first seat, one pilot after the other, the touched seat last
    FirstInForm first;             // its place is that in `seats`
    Sentence restart;              // after a broken blade: what is cut and what is left
};

// The form whole, or, where a pilot change takes the cutter off, parted by the pilots its planned seats need:
// those that none leads are held back and in no part; seats that are not planned are in each part whose pilot
// may stand in their guide, to take Z0 on. In the order the pilots first come up.
std::vector<FormInSetup> by_pilot(const Known& known, const SeatPlan& plan, const FormInSetup& form,
                                  const job::Selection& selection, Gate& gate);

// None where Z zero cannot be taken or no seat is left: why is in the gate. `form.planned` is not empty.
std::optional<ReadyForm> ready_form(const Known& known, const SeatPlan& plan, FormInSetup form,
                                    const job::Selection& selection, Gate& gate);

}  // namespace seatwright::cut
