// Sizes in the job's own unit inside sentences.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "seatwright/base/units.hpp"

namespace seatwright::prove {

// "0.0123 mm" or "0.00048 in": one place more than sizes are shown with, since these are small.
inline std::string say(double mm, LengthUnit unit) {
    return unit == LengthUnit::mm ? fmt::format("{:.4f} mm", mm) : fmt::format("{:.5f} in", mm / mm_per_inch);
}

// The same of a size that is small at will, two figures of it, rounded down: a demand that it does not
// loosen and that is never nought.
inline std::string say_at_most(double mm, LengthUnit unit) {
    const double size = unit == LengthUnit::mm ? mm : mm / mm_per_inch;
    const int places = size > 0 ? std::clamp(1 - static_cast<int>(std::floor(std::log10(size))), 0, 15) : 1;
    const double steps = std::pow(10.0, places);
    constexpr double rounding = 1e-9;  // of the last figure, from halving
    return fmt::format("{:.{}f} {}", std::floor(size * steps + rounding) / steps, places,
                       unit == LengthUnit::mm ? "mm" : "in");
}

// "81.3 kPa", or "24.0 inHg" where lengths are read in inches.
inline std::string say_vacuum(double kpa, LengthUnit unit) {
    return unit == LengthUnit::mm ? fmt::format("{:.1f} kPa", kpa)
                                  : fmt::format("{:.1f} inHg", kpa / kpa_per_inhg);
}

}  // namespace seatwright::prove
