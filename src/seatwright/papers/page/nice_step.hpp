// Steps of scales that a person reads easily.
#pragma once

#include <algorithm>
#include <cmath>

#include "seatwright/base/units.hpp"

namespace seatwright::papers {

// The largest 1, 2 or 5 times a power of ten, in the person's unit, not above `mm`; at least a tenth of what
// is ever shown. `mm` > 0; result in mm.
inline double nice_step(double mm, LengthUnit unit) {
    const double in_unit = unit == LengthUnit::inch ? mm_per_inch : 1;
    const double wanted = std::max(mm / in_unit, 1e-7);
    const double decade = std::pow(10.0, std::floor(std::log10(wanted)));
    const double lead = wanted / decade;
    return in_unit * decade * (lead >= 5 ? 5 : lead >= 2 ? 2 : 1);
}

}  // namespace seatwright::papers
