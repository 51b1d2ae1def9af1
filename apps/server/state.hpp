// The job page's whole answer.
#pragma once

#include <string>

#include "shapes.hpp"

namespace seatwright::server {

// The State shape of docs/api/openapi.json as text. Made once for a state of the job, a head and a unit.
std::string state_text(Workbench& bench, long long job, const std::string& head,
                       std::optional<LengthUnit> unit);

// StageState of every stage.
Json stages_json(const Source& source, Computation& computation, LengthUnit unit);
// StageState of the stages asked for so far.
Json stages_so_far_json(const Source& source, Computation& computation, LengthUnit unit);
Json drawings_json(Computation& computation);
Json warnings_json(const Notices& notices);

}  // namespace seatwright::server
