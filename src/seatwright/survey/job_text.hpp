// The job file a survey makes: [head] with every figure's uncertainty beside it as a comment, what the sizes
// say of valves and guides, and a fixture for hold.
#pragma once

#include <optional>
#include <string>

#include "seatwright/survey/survey.hpp"

namespace seatwright::survey {

// A job that reads without faults, in the units of the readings; valves with an open figure are comments that
// say what is open. None if no valve is known in all five figures: a job has at least one.
std::optional<std::string> job_text(const Survey& survey);

}  // namespace seatwright::survey
