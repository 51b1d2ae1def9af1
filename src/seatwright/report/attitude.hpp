// How a setup's fixture stands, in words.
#pragma once

#include <string>

#include "seatwright/hold/hold.hpp"

namespace seatwright::report {

bool is_swung(const hold::Setup& setup);               // by as much as is shown
std::string attitude_words(const hold::Setup& setup);  // "tilt 19.50°", "tilt 19.50°, swing 3.00°"

}  // namespace seatwright::report
