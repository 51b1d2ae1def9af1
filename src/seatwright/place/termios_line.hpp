// A serial line of this machine (POSIX.1-2017, termios): raw bytes, nothing echoed, no signals.
#pragma once

#include <memory>
#include <string>
#include <tl/expected.hpp>

#include "seatwright/place/line.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::place {

// `device`: "/dev/ttyUSB0". Held alone while it is open. Error: why not; what a serial line cannot do (a
// speed, a parity) is said before anything is opened.
tl::expected<std::unique_ptr<Line>, Sentence> open_line(const std::string& device,
                                                        const LineSettings& settings);

// Why these settings cannot be; says nothing: they can.
Sentence fault_of(const LineSettings& settings);

}  // namespace seatwright::place
