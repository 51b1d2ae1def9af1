// Texts of machines and gauges as numbers and times, strictly: what is not wholly one is none.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "seatwright/live/observation.hpp"

namespace seatwright::live {

// "-12.345", "+0012.345", "1e-3"; blanks around it, none within. None: it is no number, or not a finite one.
std::optional<double> number_of(std::string_view text);

// "12.3 -4.5 0": blanks between. Empty: not all of it is numbers, or there is none.
std::vector<double> numbers_of(std::string_view text);

// A date with time of ISO 8601: "2026-11-27T22:49:59.500Z", also with "+01:00", without a zone as UTC, with
// any count of decimals. None: it is no such time.
std::optional<Ms> time_of(std::string_view text);

// Without blanks and control characters at both ends.
std::string_view trimmed(std::string_view text);

}  // namespace seatwright::live
