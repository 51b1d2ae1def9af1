// What the store holds, in the shapes of docs/api/openapi.json.
#pragma once

#include "seatwright/report/json_text.hpp"
#include "server/jobs/computation.hpp"
#include "server/jobs/stored_job.hpp"
#include "server/jobs/tasks.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

Json to_json(const store::Person& person);
Json to_json(const store::Version& version);
Json to_json(const store::ShelfVersion& version);
Json to_json(const TaskState& task);
// As it stood when it was written: live, not in conflict.
Json to_json(const store::Entry& entry);
Json to_json(const store::Entry& entry, const store::Standing& standing);
report::JsonText text_of(const store::Entry& entry, const store::Standing& standing);
Json to_json(const store::Conflict& conflict);

// Where an entry is on disk when it is answered, in words: "on one disk", or on a standby's too.
std::string acknowledged(Workbench& bench);
// The Session shape for a login or for nobody.
Json session_json(Workbench& bench, const std::optional<store::Login>& login);

}  // namespace seatwright::server
