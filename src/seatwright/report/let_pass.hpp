// What a lead let pass, as every paper says it.
#pragma once

#include <string>
#include <vector>

#include "seatwright/job/job.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::report {

inline constexpr const char* let_pass_heading = "Let pass by a lead";

// "guide 2I: a bush is in (A. Lead)", in the order of the job.
std::vector<Sentence> let_pass(const job::Job& job);

}  // namespace seatwright::report
