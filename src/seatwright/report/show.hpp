// Numbers as a person reads them: lengths in inch (4 decimals) or mm (3 decimals), angles in decimal degrees.
#pragma once

#include <optional>
#include <string>

#include "seatwright/base/units.hpp"

namespace seatwright::report {

// "1.2345" or "31.356": the number only. A dash for what is not known.
std::string length(std::optional<double> mm, LengthUnit unit);
std::string length_with_unit(std::optional<double> mm, LengthUnit unit);  // "1.2345 in"
std::string angle(std::optional<double> rad, int decimals = 2);           // "19.50"
std::string percent(std::optional<double> probability);                   // "99.94 %", "> 99.999 %"
// An expanded uncertainty as a length is written, its last figure rounded up: paper never claims to know
// better than was known. One below half of that figure gets up to two more, so that it is never a nought and
// rarely doubled.
std::string uncertainty(std::optional<double> mm, LengthUnit unit);
const char* unit_name(LengthUnit unit);  // "in", "mm"
// Where lengths are read in inches, vacuum is in inHg: "24.0" beside "81.3" kPa.
std::string vacuum(double kpa, LengthUnit unit, int decimals = 1);
std::string vacuum_uncertainty(double kpa, LengthUnit unit);
const char* vacuum_unit_name(LengthUnit unit);

}  // namespace seatwright::report
