// A serial line of this machine (POSIX.1-2017, termios): raw bytes, nothing echoed, no signals.
#pragma once

#include <memory>
#include <string>
#include <tl/expected.hpp>

#include "seatwright/place/line.hpp"

namespace seatwright::place {

// `device`: "/dev/ttyUSB0". Held alone while it is open. Error: a sentence; what a serial line cannot do (a
// speed, a parity) is said before anything is opened.
tl::expected<std::unique_ptr<Line>, std::string> open_line(const std::string& device,
                                                           const LineSettings& settings);

// Why these settings cannot be; empty: they can.
std::string fault_of(const LineSettings& settings);

}  // namespace seatwright::place
