// The table of keys of a file of survey readings, as job/keys.hpp has those of a job.
#pragma once

#include <span>

#include "seatwright/job/keys.hpp"

namespace seatwright::survey {

std::span<const job::Key> survey_keys();

}  // namespace seatwright::survey
