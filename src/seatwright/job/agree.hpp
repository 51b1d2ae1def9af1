// Faults that show only when the whole job is known, its shop file included: keys that do not go together.
#pragma once

#include "seatwright/base/fault.hpp"
#include "seatwright/job/job.hpp"

namespace seatwright::job {

// In doubt: other faults may be why a valve is not there, so none is called unknown.
enum class Valves { known, in_doubt };

// Rules and allowances that name no valve of this head; a [cut] pilot that no pilot for its guides can be;
// heads whose programs would be named alike, and a file ending too long, where names have eight letters and
// three.
Faults disagreements(const Job& job, Valves valves);

}  // namespace seatwright::job
