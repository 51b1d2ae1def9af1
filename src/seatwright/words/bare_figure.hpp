// Figures whose unit the sentence or what stands around it says: "X {x}, Y {y}", "tilt {tilt}°".
#pragma once

#include "seatwright/words/figure.hpp"

namespace seatwright {

Figure as_bare_length(double mm);                      // "0.310", "0.0122"
Figure as_bare_degrees(double rad, int decimals = 2);  // "19.50"
// Whether that, with two decimals, says more than 0.00: what does not is left out of sentences.
bool shows_in_degrees(double rad);

}  // namespace seatwright
