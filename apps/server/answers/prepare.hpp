// What takes long for a batch of many heads, done ahead as a task: the stages, the page's state, papers.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "server/answers/paper_files.hpp"
#include "server/jobs/tasks.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

struct Wanted {
    std::string head;  // empty = none in particular
    std::optional<LengthUnit> unit;
    papers::PaperSize size = papers::a4;
    std::vector<std::string> papers;  // names as listed
};

// Makes the state of the job as it stands now and each paper, one step after the other; what has been made is
// kept, so that asking for it afterwards is answered at once. Gives the job; a refusal when cancelled (the
// stages computed until then stay kept) or when a paper cannot be made.
store::Answer<long long> prepare(Workbench& bench, long long job, const Wanted& wanted, TaskReport& report);

}  // namespace seatwright::server
