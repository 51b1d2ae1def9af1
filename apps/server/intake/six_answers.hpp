// A job from six answers: cylinders, spacing, valves a cylinder, their order, angles, sizes.
#pragma once

#include <string>

#include "server/http/http_error.hpp"

namespace seatwright::server {

// The job file, as far as the answers go; the first two are needed. Sizes said to be right stand in its
// `sure` (intake/said_right.hpp). Machine and fixture are the shelf's: of the fixtures the first that holds
// every guide. Valve places inside a cylinder are a start to be measured and corrected, and the file says so.
// Error: bad, with a sentence.
store::Answer<std::string> text_of_answers(const Json& answers, const std::string& shop);

}  // namespace seatwright::server
