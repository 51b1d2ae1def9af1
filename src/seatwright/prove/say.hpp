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

// "81.3 kPa", or "24.0 inHg" where lengths are read in inches.
inline std::string say_vacuum(double kpa, LengthUnit unit) {
    return unit == LengthUnit::mm ? fmt::format("{:.1f} kPa", kpa)
                                  : fmt::format("{:.1f} inHg", kpa / kpa_per_inhg);
}

}  // namespace seatwright::prove
