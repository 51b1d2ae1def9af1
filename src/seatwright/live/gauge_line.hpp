// A line of a gauge on a wire: "+  2.1380, MM", "+0012.345", "ERR2", letters for a mode before the figure, M
// or I after it. (Common practice of gauges with a serial output; none of it is a standard.)
#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>

#include "seatwright/live/observation.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::live {

// One number, with its unit where the line has one. Error: why not, with the line in it.
tl::expected<Observation, Sentence> read_gauge_line(std::string_view line);

// "mm", "in", "deg", "um" of the words gauges and machines use for them, capitals aside; empty: of none.
std::string unit_of(std::string_view word);

}  // namespace seatwright::live
