#include "seatwright/hold/words.hpp"

#include <fmt/format.h>

#include <cmath>

namespace seatwright::hold {

std::string length_words(double mm, LengthUnit unit) {
    return unit == LengthUnit::inch ? fmt::format("{:.3f} in", mm / mm_per_inch)
                                    : fmt::format("{:.2f} mm", mm);
}

std::string angle_words(double rad) {
    const double degrees = deg(rad);
    const double rounded = std::round(degrees * 100) / 100;
    // Half of the last of four decimals: what cannot be told apart when printed.
    if (std::abs(degrees - rounded) < 5e-5) return fmt::format("{:.2f} deg", rounded + 0.0);
    return fmt::format("{:.4f} deg", degrees);
}

std::string mass_words(double kg, LengthUnit unit) {
    const std::string metric = fmt::format("{:.3g} kg", kg);
    return unit == LengthUnit::inch ? fmt::format("{} ({:.0f} lb)", metric, kg / kg_per_pound) : metric;
}

const char* side_words(job::LoadSide side) {
    return side == job::LoadSide::back ? "back" : "front";
}

job::LoadSide opposite(job::LoadSide side) {
    return side == job::LoadSide::back ? job::LoadSide::front : job::LoadSide::back;
}

}  // namespace seatwright::hold
