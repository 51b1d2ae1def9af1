// Figures that a person types at the readout.
#pragma once

#include "seatwright/job/shop.hpp"

namespace seatwright::report {

// A Z in the readout's own sign as a person is told it: where the machine is run by hand to the readout's
// step, the one above, so never deeper than planned; else as it is.
double typed_z(const job::Machine& machine, double z);

}  // namespace seatwright::report
