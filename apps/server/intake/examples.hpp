// The demonstration jobs and the default shop, as they are in the binary. All invented.
#pragma once

#include <optional>
#include <string>
#include <vector>

namespace seatwright::server {

struct Example {
    std::string name;   // "wedge"
    std::string title;  // of the job
    std::string text;
};

const std::vector<Example>& examples();
std::optional<Example> example_named(const std::string& name);
const std::string& default_shop();

}  // namespace seatwright::server
