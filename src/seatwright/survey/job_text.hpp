// The job file a survey makes: [head] with every figure's uncertainty beside it as a comment, what the sizes
// say of valves and guides, and a fixture for hold.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/survey/survey.hpp"

namespace seatwright::survey {

// Whether a valve is known in all five figures: a job has at least one.
bool is_a_job(const Survey& survey);

// A job that reads without faults, in the units of the readings; valves with an open figure are comments that
// say what is open. None where there is none. `taken`: the repeats somebody accepted (accepted.hpp); the
// figures stand so in the job, which says it.
std::optional<std::string> job_text(const Survey& survey, const std::vector<std::string>& taken = {});

}  // namespace seatwright::survey
