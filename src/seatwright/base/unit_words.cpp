#include "seatwright/base/unit_words.hpp"

#include <fmt/format.h>

namespace seatwright {

namespace {

constexpr double newton_per_lbf = kg_per_pound * standard_gravity;
constexpr double mm_per_foot = 12 * mm_per_inch;
// Mechanical horsepower, 550 ft·lbf/s (NIST SP 811, appendix B).
constexpr double watt_per_hp = 550 * newton_per_lbf * mm_per_foot / 1000;

InUnit shown(double value, const char* metric, double factor, const char* customary, LengthUnit unit) {
    return unit == LengthUnit::inch ? InUnit{value / factor, customary} : InUnit{value, metric};
}

}  // namespace

InUnit surface_speed_in_unit(double m_per_min, LengthUnit unit) {
    return shown(m_per_min, "m/min", mm_per_foot / 1000, "ft/min", unit);
}

InUnit torque_in_unit(double newton_mm, LengthUnit unit) {
    return shown(newton_mm / 1000, "N·m", newton_per_lbf * mm_per_foot / 1000, "lbf·ft", unit);
}

InUnit force_in_unit(double newton, LengthUnit unit) {
    return shown(newton, "N", newton_per_lbf, "lbf", unit);
}

InUnit pressure_in_unit(double mpa, LengthUnit unit) {
    return shown(mpa, "MPa", newton_per_lbf / (mm_per_inch * mm_per_inch), "psi", unit);
}

InUnit power_in_unit(double watt, LengthUnit unit) {
    return shown(watt, "W", watt_per_hp, "hp", unit);
}

std::string words_of(const InUnit& shown, int decimals) {
    return fmt::format("{:.{}f} {}", shown.value, decimals, shown.unit);
}

}  // namespace seatwright
