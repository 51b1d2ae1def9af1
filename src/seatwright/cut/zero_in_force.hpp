// Z0 that stands in the control already, where part of a head is planned after the whole head's first file.
#pragma once

#include <optional>

#include "seatwright/cut/form_plan.hpp"

namespace seatwright::cut {

// The seat whose touch gave it: where the reading of a first seat of this part (`form`) cannot be of the
// part's own first file, and is of the first seat of the whole head's file (`whole`), Z0 stays as that file
// had it. Index into job.head.valves; none: the part takes its own.
std::optional<std::size_t> zero_in_force(const Known& known, const SeatPlan& plan, const FormInSetup& whole,
                                         const FormInSetup& form, const job::Selection& selection,
                                         const Gate& gate);

}  // namespace seatwright::cut
