#include "seatwright/report/typed.hpp"

#include <cmath>

namespace seatwright::report {

double typed_z(const job::Machine& machine, double z) {
    constexpr double rounding = 1e-6;  // of a step: a figure on a step stays
    if (machine.runs != job::Runs::hand || !(machine.resolution > 0)) return z;
    const double steps = z / machine.resolution;
    const double above = machine.z_sign > 0 ? std::ceil(steps - rounding) : std::floor(steps + rounding);
    return above * machine.resolution + 0.0;  // no minus nought
}

}  // namespace seatwright::report
