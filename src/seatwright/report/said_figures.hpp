// Figures as they stand in the report's sentences: what tables show (show.hpp), typed, so that a sentence has
// them in its unit. A dash for what is not known.
#pragma once

#include <optional>

#include "seatwright/words/part.hpp"

namespace seatwright::report {

Part length_said(std::optional<double> mm);       // "1.2345 in"
Part bare_length_said(std::optional<double> mm);  // "1.2345"
// "99.94 %", "> 99.999 %", "< 0.1 %" of a probability.
Part chance_said(std::optional<double> probability);
// "99.94 %" of a share; "not known".
Part rate_said(std::optional<double> share, int decimals = 2);

}  // namespace seatwright::report
