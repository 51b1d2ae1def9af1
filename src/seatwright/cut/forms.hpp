// The forms that files are made from: each cutter's seats in each setup, ready to be written.
//
// Left out are seats nobody asked for, those held back (but in a draft), those measured good already; a blade
// broke: what its file cut before that seat, and what other cutters cut before.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/cut/form_plan.hpp"
#include "seatwright/cut/sequence.hpp"

namespace seatwright::cut {

struct ReadyForms {
    std::vector<ReadyForm>
        forms;  // in the order they are cut; of one cutter in one setup one after the other
    // One for each of SeatPlan::seats: its stop as its own cutter's program writes it (machine.z_sign, trim
    // included), held back or not; none where Z zero cannot be taken, or it counts as cut.
    std::vector<std::optional<double>> program_z;
    std::vector<Warning> warnings;
};

ReadyForms ready_forms(const Known& known, const SeatPlan& plan, const Sequence& sequence,
                       const job::Selection& selection, Gate& gate);

// What a first seat's reading moves every stop of the form by, up positive.
double shift_of(const ReadyForm& form);

}  // namespace seatwright::cut
