// The heads of a job without going through all its readings again for each new one.
#pragma once

#include <string>

#include "seatwright/base/growing_list.hpp"
#include "seatwright/job/job.hpp"

namespace seatwright::job {

// The same names in the same order as Job::heads(). The last few jobs asked about are remembered by their
// lists of readings: where a job has grown out of one of them, what is new alone is looked at. Thread-safe.
GrowingList<std::string> known_heads(const Job& job);

}  // namespace seatwright::job
