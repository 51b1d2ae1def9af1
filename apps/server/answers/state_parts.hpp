// What two states of a job's page differ in, told part by part as a JSON Patch (RFC 6902).
#pragma once

#include <string>

#include "server/jobs/state_asked.hpp"

namespace seatwright::server {

// The state as one object.
std::string whole_of(const StateParts& parts);

// The operations, a JSON array, that make `after` of `before`. Of a list that only grew at its end its new
// things are added.
std::string patch_of(const StateParts& before, const StateParts& after);

}  // namespace seatwright::server
