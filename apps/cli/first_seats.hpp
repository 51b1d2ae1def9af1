// What the files that cut a head's first seats planned, kept with the papers of a folder: a reading is held
// against the file that cut the seat, also where the job was changed since.
#pragma once

#include <filesystem>

#include "cli/paper_set.hpp"
#include "seatwright/job/job.hpp"
#include "seatwright/plan/plan.hpp"

namespace seatwright::cli {

// What is kept in that folder for a job of that title; nothing where there is no list, or one of another job,
// or the job has none.
FirstSeats first_seats_in(const std::filesystem::path& folder, const std::string& job);

// Each reading of a first seat that does not say what was planned is told what is kept (FirstSeat::earlier).
void tell_earlier(job::Job& job, const FirstSeats& kept);

// What is to be kept once this plan's papers lie there: what was, what readings say, and what its first files
// plan.
FirstSeats kept_after(FirstSeats kept, const job::Job& job, const plan::Plan& plan);

}  // namespace seatwright::cli
