// Is an entry fit to be stored? Judged by the job file's own reader, so that a workbench entry and a line in
// a file obey the same rules.
#pragma once

#include <optional>
#include <string>

#include "seatwright/job/job.hpp"
#include "seatwright/store/entry.hpp"
#include "seatwright/store/refusal.hpp"

namespace seatwright::store {

struct Context {
    const std::string& document;  // the job's text without readings
    const std::string& shop;      // its shop file's text
    const job::Job& job;          // the same, read
};

// Nothing when it is fit, else the refusal with a sentence. Cost: one reading of the document.
std::optional<Refusal> fault_of_entry(const Context& context, const NewEntry& entry);

}  // namespace seatwright::store
