#include "seatwright/words/bare_figure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace seatwright {

namespace {

constexpr double newton_per_lbf = kg_per_pound * standard_gravity;
constexpr double mm_per_foot = 12 * mm_per_inch;

constexpr Measure length{{"mm", 1, 3}, {"in", mm_per_inch, 4}, "_mm"};
constexpr Measure bare_length{{"", 1, 3}, {"", mm_per_inch, 4}, "_mm"};
constexpr Measure up{{"mm", 1, 3}, {"in", mm_per_inch, 4}, "_mm", 1, Style::up};
constexpr Measure trim{{"", 1, 4}, {"", mm_per_inch, 4}, "_mm", 1, Style::signed_};
constexpr Measure volume{{"cm3", 1000, 2}, {"cm3", 1000, 2}, "_cm3", 1000};
constexpr Measure form_angle{
    {"deg", rad_per_deg, 4}, {"deg", rad_per_deg, 4}, "_deg", rad_per_deg, Style::digits};
constexpr Measure degrees_fixed{{"deg", rad_per_deg, 2}, {"deg", rad_per_deg, 2}, "_deg", rad_per_deg};
constexpr Measure bare_degrees{{"", rad_per_deg, 2}, {"", rad_per_deg, 2}, "_deg", rad_per_deg};
constexpr Measure rapid{{"m/min", 1000.0 / 60, 1}, {"in/min", mm_per_inch / 60, 0}, "_mm_per_s"};
constexpr Measure acceleration{{"m/s2", 1000, 1}, {"in/s2", mm_per_inch, 0}, "_mm_per_s2"};
constexpr Measure depth{{"mm", 1, 1}, {"in", mm_per_inch, 2}, "_mm"};
constexpr Measure place{{"mm", 1, 2}, {"in", mm_per_inch, 3}, "_mm"};
constexpr Measure fine{{"mm", 1, 4}, {"in", mm_per_inch, 5}, "_mm"};
constexpr Measure below{{"mm", 1, 2}, {"in", mm_per_inch, 2}, "_mm", 1, Style::at_most};
constexpr Measure angle{{"deg", rad_per_deg, 2}, {"deg", rad_per_deg, 2}, "_deg", rad_per_deg, Style::angle};
constexpr Measure mass{{"kg", 1, 3}, {"lb", kg_per_pound, 0}, "_kg", 1, Style::mass};
constexpr Measure vacuum{{"kPa", 1, 1}, {"inHg", kpa_per_inhg, 1}, "_kpa"};
constexpr Measure speed{{"m/min", 1, 0}, {"ft/min", mm_per_foot / 1000, 0}, "_m_per_min"};
constexpr Measure torque{{"N·m", 1000, 1}, {"lbf·ft", newton_per_lbf* mm_per_foot, 1}, "_nm", 1000};
constexpr Measure pressure{{"MPa", 1, 0}, {"psi", newton_per_lbf / (mm_per_inch * mm_per_inch), 0}, "_mpa"};
constexpr Measure plain{{"", 1, 0}, {"", 1, 0}, ""};
constexpr Measure percent{{"%", 1, 1}, {"%", 1, 1}, "_percent"};
constexpr Measure powers{{"", 1, 1}, {"", 1, 1}, "", 1, Style::exponent};
constexpr Measure digits{{"", 1, 6}, {"", 1, 6}, "", 1, Style::digits};

std::string rounded_down(double size, int digits_that_count) {
    const int places =
        size > 0 ? std::clamp(digits_that_count - 1 - static_cast<int>(std::floor(std::log10(size))), 0, 15)
                 : 1;
    const double steps = std::pow(10.0, places);
    constexpr double rounding = 1e-9;  // of the last figure, from halving
    return fmt::format("{:.{}f}", std::floor(size * steps + rounding) / steps, places);
}

std::string rounded_up(double size, int decimals) {
    constexpr double noise = 1e-6;  // of the last figure
    const double steps = std::pow(10.0, decimals);
    return fmt::format("{:.{}f}", std::ceil(size * steps - noise) / steps, decimals);
}

std::string angle_number(double degrees) {
    const double rounded = std::round(degrees * 100) / 100;
    // Half of the last of four decimals: what cannot be told apart when printed.
    if (std::abs(degrees - rounded) < 5e-5) return fmt::format("{:.2f}", rounded + 0.0);
    return fmt::format("{:.4f}", degrees);
}

// No minus before a nought: "-0.00 deg" leans no way.
std::string without_sign_of_nought(std::string number) {
    if (number.starts_with('-') && number.find_first_of("123456789") == std::string::npos) number.erase(0, 1);
    return number;
}

std::string number_of(double shown, Style style, int decimals) {
    switch (style) {
        case Style::signed_:
            return fmt::format("{:+.{}f}", shown, decimals);
        case Style::up:
            return rounded_up(shown, decimals);
        case Style::digits:
            return fmt::format("{:.{}g}", shown, decimals);
        case Style::exponent:
            return fmt::format("{:.{}e}", shown, decimals);
        case Style::at_most:
            return rounded_down(shown, decimals);
        case Style::angle:
            return angle_number(shown);
        case Style::fixed:
        case Style::mass:
            break;
    }
    return fmt::format("{:.{}f}", shown, decimals);
}

}  // namespace

Figure as_length(double mm) {
    return {&length, mm};
}
Figure as_bare_length(double mm) {
    return {&bare_length, mm};
}
Figure as_length_up(double mm) {
    return {&up, mm};
}
Figure as_trim(double mm) {
    return {&trim, mm};
}
Figure as_volume(double mm3) {
    return {&volume, mm3};
}
Figure as_form_angle(double rad) {
    return {&form_angle, rad};
}
Figure as_degrees(double rad, int decimals) {
    return {&degrees_fixed, rad, decimals};
}
Figure as_bare_degrees(double rad, int decimals) {
    return {&bare_degrees, rad, decimals};
}
bool shows_in_degrees(double rad) {
    constexpr double half_of_last_digit = 0.005;
    return std::abs(deg(rad)) > half_of_last_digit;
}
Figure as_rapid(double mm_per_s) {
    return {&rapid, mm_per_s};
}
Figure as_acceleration(double mm_per_s2) {
    return {&acceleration, mm_per_s2};
}
Figure as_depth(double mm) {
    return {&depth, mm};
}
Figure as_place(double mm) {
    return {&place, mm};
}
Figure as_fine(double mm) {
    return {&fine, mm};
}
Figure as_length_below(double mm) {
    return {&below, mm};
}
Figure as_angle(double rad) {
    return {&angle, rad};
}
Figure as_mass(double kg) {
    return {&mass, kg};
}
Figure as_vacuum(double kpa) {
    return {&vacuum, kpa};
}
Figure as_surface_speed(double m_per_min, int decimals) {
    return {&speed, m_per_min, decimals};
}
Figure as_torque(double newton_mm, int decimals) {
    return {&torque, newton_mm, decimals};
}
Figure as_pressure(double mpa, int decimals) {
    return {&pressure, mpa, decimals};
}
Figure as_number(double value, int decimals) {
    return {&plain, value, decimals};
}
Figure as_power_of_ten(double value, int decimals) {
    return {&powers, value, decimals};
}
Figure as_percent(double value, int decimals) {
    return {&percent, value, decimals};
}
Figure as_digits(double value, int count) {
    return {&digits, value, count};
}

std::string written(const Figure& figure, LengthUnit unit, Degrees degrees) {
    const Measure& m = *figure.measure;
    if (m.style == Style::mass) {
        const std::string metric = fmt::format("{:.3g} kg", figure.value);
        return unit == LengthUnit::inch ? fmt::format("{} ({:.0f} lb)", metric, figure.value / kg_per_pound)
                                        : metric;
    }
    const Written& as = unit == LengthUnit::inch ? m.customary : m.metric;
    const int decimals = figure.decimals < 0 ? as.decimals : figure.decimals;
    const double shown = figure.value / as.unit_size;
    const std::string number = m.style == Style::signed_
                                   ? number_of(shown, m.style, decimals)
                                   : without_sign_of_nought(number_of(shown, m.style, decimals));
    if (degrees == Degrees::sign && as.unit == "deg") return number + "°";
    return as.unit.empty() ? number : fmt::format("{} {}", number, as.unit);
}

}  // namespace seatwright
