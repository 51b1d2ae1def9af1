// What a drag changes in a result, without a word in the job file.
#pragma once

#include <map>
#include <string>

#include "computation.hpp"

namespace seatwright::server {

// Holds the setup (every setup if none is named) at the asked tilt and swing; what is not asked stays.
void hold_at(hold::Hold& hold, const job::Job& job, const Overrides::Attitude& attitude);

// Cuts those seats to those depths (mm) instead of the planned ones: what follows from the depth of a seat
// follows, limits are left for the eye to judge.
void cut_to(shape::Shape& shape, const job::Job& job, const std::map<std::string, double>& depths);

}  // namespace seatwright::server
