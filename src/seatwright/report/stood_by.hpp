// Figures and readings that somebody stands by though they look odd, as the sheet says them.
#pragma once

#include <string>
#include <vector>

#include "seatwright/job/job.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::report {

inline constexpr const char* stood_by_heading = "Odd, and said to be right";

// "head.valve.1I.z = 0.35 in (A. Miller, 2026-01-31)", "touch of 3I: kept (…)": of the job, and of that
// head's readings in the order of the file. Who and when are left out where nobody is named.
std::vector<Sentence> stood_by(const job::Job& job, const std::string& head);

}  // namespace seatwright::report
