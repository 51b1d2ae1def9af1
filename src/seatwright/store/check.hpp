// Is an entry fit to be stored? Judged by the job file's own reader, so that a workbench entry and a line in
// a file obey the same rules.
#pragma once

#include <optional>
#include <string>

#include "seatwright/job/job.hpp"
#include "seatwright/store/entry.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

// Nothing when it is fit for that job, else the refusal with a sentence. No text is read.
std::optional<Refusal> fault_of_entry(const job::Job& job, const NewEntry& entry);

}  // namespace seatwright::store
