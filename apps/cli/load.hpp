// From the words on the command line to a job in memory, with faults told one a line.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/commands.hpp"
#include "seatwright/base/fault.hpp"
#include "seatwright/job/job.hpp"
#include "seatwright/job/needs.hpp"

namespace seatwright::cli {

// The job and its shop file; the faults go to standard error. Empty when there is any.
std::optional<job::Job> load(const std::string& path);

// As load(), and the job must also have what each of `stages` cannot do without and, if one is asked for, the
// head.
std::optional<job::Job> load_for(const Asked& asked, const std::vector<job::Stage>& stages);

void print_faults(const Faults& faults);

}  // namespace seatwright::cli
