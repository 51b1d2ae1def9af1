// Units. In memory: mm, rad, N, N·mm, s, kg, MPa (= N/mm2), W. Everything else is converted at the rim.
#pragma once

#include <numbers>

namespace seatwright {

// Exact by definition: international inch (1959), pound (1959) and standard gravity (3rd CGPM 1901).
inline constexpr double mm_per_inch = 25.4;
inline constexpr double kg_per_pound = 0.45359237;
inline constexpr double standard_gravity = 9.80665;  // m/s2
// Conventional inch of mercury, 13595.1 kg/m3 · g · 25.4 mm (NIST SP 811, appendix B).
inline constexpr double kpa_per_inhg = 3.386388640341;

inline constexpr double pi = std::numbers::pi;
inline constexpr double rad_per_deg = pi / 180.0;
inline constexpr double deg(double rad) {
    return rad / rad_per_deg;
}
inline constexpr double rad(double deg) {
    return deg * rad_per_deg;
}

// The unit a person reads lengths in; never changes what is in memory or in JSON.
enum class LengthUnit { mm, inch };

}  // namespace seatwright
