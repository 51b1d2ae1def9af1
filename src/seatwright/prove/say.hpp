// Sizes in the job's own unit inside sentences.
#pragma once

#include <fmt/format.h>

#include <string>

#include "seatwright/base/units.hpp"

namespace seatwright::prove {

// "0.0123 mm" or "0.00048 in": one place more than sizes are shown with, since these are small.
inline std::string say(double mm, LengthUnit unit) {
    return unit == LengthUnit::mm ? fmt::format("{:.4f} mm", mm) : fmt::format("{:.5f} in", mm / mm_per_inch);
}

}  // namespace seatwright::prove
