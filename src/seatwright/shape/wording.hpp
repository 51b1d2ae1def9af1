// Volumes, angles and lists as sentences of warnings carry them; lengths from base.
#pragma once

#include <string>
#include <vector>

#include "seatwright/base/length_words.hpp"

namespace seatwright::shape {

std::string volume_words(double mm3);                         // "0.50 cm3"
std::string angle_words(double rad);                          // "30 deg", "43.5 deg"
std::string list_words(const std::vector<std::string>& all);  // "1E, 2E and 3I"

}  // namespace seatwright::shape
