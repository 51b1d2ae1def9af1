// What a drag changes in a result, without a word in the job file.
#pragma once

#include "computation.hpp"

namespace seatwright::server {

// Holds the setup (every setup if none is named) at the asked tilt and swing; what is not asked stays.
void hold_at(hold::Hold& hold, const job::Job& job, const Overrides::Attitude& attitude);

}  // namespace seatwright::server
