// The job page's whole answer.
#pragma once

#include <span>
#include <string>

#include "server/answers/store_json.hpp"

namespace seatwright::server {

// The State shape of docs/api/openapi.json as text. Made once for a state of the job, a head and a unit.
std::string state_text(Workbench& bench, long long job, const std::string& head,
                       std::optional<LengthUnit> unit);

// Makes it ahead, as the job's page asks for it.
void recompute_state(Workbench& bench, long long job);

// The stages' own JSON as it was made once, set into one object's text unparsed; null for what cannot be
// computed.
std::string results_text(Computation& computation, std::span<const job::Stage> stages, LengthUnit unit);

// StageState of every stage.
Json stages_json(const StoredJob& stored, Computation& computation, LengthUnit unit);
// StageState of the stages asked for so far.
Json stages_so_far_json(const StoredJob& stored, Computation& computation, LengthUnit unit);
Json drawings_json(Computation& computation);
Json warnings_json(const Notices& notices, LengthUnit unit);

}  // namespace seatwright::server
