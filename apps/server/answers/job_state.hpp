// The job page's whole answer.
#pragma once

#include <span>
#include <string>

#include "seatwright/words/part.hpp"
#include "server/answers/store_json.hpp"

namespace seatwright::server {

// Names a state of the job: what changes what a page shows changes it.
std::string key_of(const StoredJob& stored);

// The State shape of docs/api/openapi.json as text. Made once for a state of the job, a head and a unit.
std::string state_text(Workbench& bench, long long job, const StateAsked& asked);

// What is said where a file is asked for while its job is worked out again.
Sentence no_file_until_worked_out();

// The Delta shape: what makes the state as it is now of the one whose key is `since`, of the same head in the
// same unit. None where that one is not known any more: the page asks for the whole then.
std::optional<std::string> delta_text(Workbench& bench, long long job, const StateAsked& asked,
                                      const std::string& since);

// Makes the state ahead, as pages asked for it last.
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
