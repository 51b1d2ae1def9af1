// The limits of a job: what only a lead may change, since a verdict hangs on them.
#pragma once

#include <string>
#include <vector>

namespace seatwright::server {

// Keys of limits whose values differ between two job texts (both readable TOML): "seat.intake.width_tol".
std::vector<std::string> changed_limits(const std::string& before, const std::string& after);

}  // namespace seatwright::server
