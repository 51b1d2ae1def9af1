// What the store holds, in the shapes of docs/api/openapi.json.
#pragma once

#include "server/jobs/computation.hpp"
#include "server/jobs/source.hpp"
#include "server/jobs/tasks.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

Json to_json(const store::Person& person);
Json to_json(const store::Version& version);
Json to_json(const store::ShelfVersion& version);
Json to_json(const TaskState& task);
Json to_json(const Warning& warning);
// As it stood when it was written: live, not in conflict.
Json to_json(const store::Entry& entry);
Json to_json(const store::Entry& entry, const store::Standing& standing);
Json to_json(const store::Conflict& conflict);

// The Session shape for a login or for nobody.
Json session_json(Workbench& bench, const std::optional<store::Login>& login);
// A job's card; what the stages say in these units (the job's own if none).
Json card_json(Workbench& bench, const store::JobRow& row, std::optional<LengthUnit> unit);
// The card and the document.
Json job_json(Workbench& bench, const Source& source, std::optional<LengthUnit> unit);

// A stage's mark for `head`, the head the lines speak of; what a person said and what stands open of that
// head count.
std::string mark_of(const Source& source, const report::StageLine& line, const std::string& head);
// What to do next, of all stages.
std::string next_of(const Source& source, const std::vector<report::StageLine>& lines,
                    const std::string& head);

}  // namespace seatwright::server
