// Numbers as a person reads them: lengths in inch (4 decimals) or mm (3 decimals), angles in decimal degrees.
#pragma once

#include <optional>
#include <string>

#include "seatwright/base/units.hpp"

namespace seatwright::papers {

// "1.2345" or "31.356": the number only. A dash for what is not known.
std::string length(std::optional<double> mm, LengthUnit unit);
std::string length_with_unit(std::optional<double> mm, LengthUnit unit);  // "1.2345 in"
std::string angle(std::optional<double> rad, int decimals = 2);           // "19.50"
std::string percent(std::optional<double> probability);                   // "99.94 %", "> 99.999 %"
const char* unit_name(LengthUnit unit);                                   // "in", "mm"
// Where lengths are read in inches, vacuum is in inHg: "24.0" beside "81.3" kPa.
std::string vacuum(double kpa, LengthUnit unit, int decimals = 1);
const char* vacuum_unit_name(LengthUnit unit);

}  // namespace seatwright::papers
