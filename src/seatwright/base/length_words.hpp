// Lengths as the sentences of reasons and warnings carry them: in the job's unit, decimals as on paper.
#pragma once

#include <string>

#include "seatwright/base/units.hpp"

namespace seatwright {

std::string length_words(double mm, LengthUnit unit);  // sizes and positions: "0.310 mm", "0.0122 in"
std::string depth_words(double mm, LengthUnit unit);   // how far down, by eye: "20.3 mm", "0.80 in"

}  // namespace seatwright
