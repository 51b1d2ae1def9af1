// Is a text fit to be the shelf?
#pragma once

#include <string>

#include "seatwright/base/fault.hpp"

namespace seatwright::server {

// Every fault of the shop file itself, by the job reader.
Faults faults_of_shop(const std::string& text);

}  // namespace seatwright::server
