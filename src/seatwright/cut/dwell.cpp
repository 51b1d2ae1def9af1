#include "seatwright/cut/dwell.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"

namespace seatwright::cut {

Deflection deflection_of(double thrust, double feed, double axial_stiffness) {
    require(thrust >= 0 && feed > 0 && axial_stiffness > 0, "thrust, feed and stiffness are positive");
    const double cutting_stiffness = thrust / feed;
    return {thrust / axial_stiffness, cutting_stiffness / (cutting_stiffness + axial_stiffness)};
}

double dwell_turns_for(const Deflection& deflection, double residue) {
    require(residue > 0, "the residue allowed is positive");
    if (deflection.start <= residue || deflection.ratio <= 0) return least_dwell_turns;
    // A millionth of a turn so that a residue met exactly does not ask for one turn more.
    const double turns = std::log(residue / deflection.start) / std::log(deflection.ratio);
    return std::max(least_dwell_turns, std::ceil(turns - 1e-6));
}

}  // namespace seatwright::cut
