// From the text of a readings file to readings, with every fault at once.
#pragma once

#include <string>
#include <string_view>

#include "seatwright/base/fault.hpp"
#include "seatwright/survey/readings.hpp"

namespace seatwright::survey {

// TOML 1.0, keys as docs/survey.md, a bare length in the file's `units`. Faults: what is no TOML, unknown
// keys, wrong units and types, readings that lack what they need (a hole's Z without ball and diameter, a
// deck place without X and Y), a name that is a hole's in one line and a guide's in another, a size that
// cannot be, nothing read at all.
Checked<Readings> read_readings(std::string_view text, const std::string& file);

}  // namespace seatwright::survey
