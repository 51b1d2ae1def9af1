// Castings as pages show them, and what jobs teach them.
#pragma once

#include "seatwright/store/castings.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

// What is known of it: valves, spacing, heads that taught, depths, times; its offers are a lead's to decide.
Json casting_json(Workbench& bench, const store::CastingRow& row);

// Takes in what finished heads (every seat measured) of the jobs that name castings have taught since, and
// offers what those jobs say of a head that its casting does not. What cannot be worked out teaches nothing.
void catch_up(Workbench& bench);

// A job's heads and description as a new casting, in the name the job gives its head.
store::CastingRow casting_of_job(Workbench& bench, const store::Person& by, long long job);

// A file of a casting from another shop. Refused: what cannot be read, one of a newer program, a name known.
store::CastingRow imported_casting(Workbench& bench, const store::Person& by, const std::string& text);

// What a job says of its head becomes the casting's, or not.
store::CastingRow decided(Workbench& bench, const store::Person& by, const store::CastingRow& row,
                          long long offer, bool accepted);

// The text of a new job of that casting, machine and fixture of the shelf.
std::string job_of_casting(Workbench& bench, const store::CastingRow& row);

}  // namespace seatwright::server
