// Figures whose unit the sentence or what stands around it says: "X {x}, Y {y}", "tilt {tilt}°".
#pragma once

#include "seatwright/words/figure.hpp"

namespace seatwright {

Figure as_bare_length(double mm);                      // "0.310", "0.0122"
Figure as_bare_degrees(double rad, int decimals = 2);  // "19.50"

}  // namespace seatwright
