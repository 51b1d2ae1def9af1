// What stands in a folder, read whole.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/place/calls.hpp"

namespace seatwright::place {

// A file as it was read; not a regular one, or larger than any program of ours: no bytes.
struct There {
    std::string name;  // as the folder has it
    Identity identity;
    std::optional<std::string> bytes;
    std::string sha256;  // empty without bytes
};

// None: it cannot be looked at; errno says why. What is no file, or a link, is There without bytes.
std::optional<There> contents(Calls& calls, int folder, const std::string& name);

// Of `names` those that a file system without case takes for `name`.
std::vector<std::string> alike(const std::vector<std::string>& names, const std::string& name);

}  // namespace seatwright::place
