// Which state of a job a page shows.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/units.hpp"

namespace seatwright::server {

struct StateAsked {
    std::string head;  // whose readings; empty = the stages' own choice, and all heads in find and prove
    std::optional<LengthUnit> unit;  // none = the job's own
    std::string name() const;
    bool operator==(const StateAsked&) const = default;
};

// A state in parts, each a text of its own.
struct StatePart {
    std::string path;  // a JSON Pointer (RFC 6901): "/heads", "/results/find/blind_run"
    std::string text;  // JSON
};

// In the order in which they stand in the state. An object whose keys are parts is itself no part; one
// without any key is.
using StateParts = std::vector<StatePart>;

}  // namespace seatwright::server
