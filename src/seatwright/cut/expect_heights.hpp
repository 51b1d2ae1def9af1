// Of expect.hpp: what the readings and the drawing say of one seat's height.
#pragma once

#include "seatwright/cut/expect.hpp"

namespace seatwright::cut {

// Fills recession, finished and deepest.
void take_heights(ExpectedSeat& seat, const job::Job& job, const std::string& head);

}  // namespace seatwright::cut
