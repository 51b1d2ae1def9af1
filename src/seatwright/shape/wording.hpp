// Lengths as sentences of warnings carry them: the job's unit, decimals as on paper.
#pragma once

#include <string>
#include <vector>

#include "seatwright/base/units.hpp"

namespace seatwright::shape {

std::string length_words(double mm, LengthUnit unit);         // "0.310 mm", "0.0122 in"
std::string volume_words(double mm3);                         // "0.50 cm3"
std::string angle_words(double rad);                          // "30 deg", "43.5 deg"
std::string list_words(const std::vector<std::string>& all);  // "1E, 2E and 3I"

}  // namespace seatwright::shape
