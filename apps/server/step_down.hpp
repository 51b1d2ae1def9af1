// A server that root has started goes on as somebody who may do less.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace seatwright::server {

// A sentence.
struct CannotStepDown : std::runtime_error {
    using std::runtime_error::runtime_error;
};

// Those of `own` that are there are given to the user, who the process then is, for good. Throws
// CannotStepDown: who asks is not root, there is no such user, or that user cannot reach `folder`.
void step_down(const std::string& user, const std::string& folder, const std::vector<std::string>& own);

}  // namespace seatwright::server
