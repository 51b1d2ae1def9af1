#include "seatwright/job/measures.hpp"

#include <array>
#include <cctype>

namespace seatwright::job {
namespace {

constexpr double pound_force = kg_per_pound * standard_gravity;
constexpr double in_mm = mm_per_inch;
constexpr double foot = 12 * mm_per_inch;
// Mechanical horsepower, 550 ft·lbf/s; metric horsepower 75 kgf·m/s (NIST SP 811, appendix B).
constexpr double horsepower = 550 * pound_force * foot / 1000;
constexpr double metric_horsepower = 75 * standard_gravity;
constexpr double kpa_per_psi = pound_force / (in_mm * in_mm) * 1000;

constexpr auto unit_table = std::to_array<Unit>({
    {"mm", Base::length, 1},
    {"in", Base::length, in_mm},
    {"um", Base::length, 1e-3},
    {"cm", Base::length, 10},
    {"m", Base::length, 1000},
    {"thou", Base::length, in_mm / 1000},
    {"ft", Base::length, foot},
    {"\"", Base::length, in_mm, false},
    {"''", Base::length, in_mm, false},
    {"'", Base::length, foot, false},
    {"inch", Base::length, in_mm, false},
    {"inches", Base::length, in_mm, false},
    {"mil", Base::length, in_mm / 1000, false},
    {"micron", Base::length, 1e-3, false},
    {"microns", Base::length, 1e-3, false},
    {"nm", Base::length, 1e-6, false},
    {"dm", Base::length, 100, false},
    {"feet", Base::length, foot, false},
    {"foot", Base::length, foot, false},
    {"mm/turn", Base::per_turn, 1},
    {"in/turn", Base::per_turn, in_mm},
    {"mm/rev", Base::per_turn, 1, false},
    {"in/rev", Base::per_turn, in_mm, false},
    {"ipr", Base::per_turn, in_mm, false},
    {"um/turn", Base::per_turn, 1e-3, false},
    {"um/rev", Base::per_turn, 1e-3, false},
    {"deg", Base::angle, rad_per_deg},
    {"rad", Base::angle, 1},
    {"min", Base::angle, rad_per_deg / 60},
    {"mrad", Base::angle, 1e-3},
    {"sec", Base::angle, rad_per_deg / 3600, false},
    {"degree", Base::angle, rad_per_deg, false},
    {"degrees", Base::angle, rad_per_deg, false},
    {"\u00b0", Base::angle, rad_per_deg, false},
    {"'", Base::angle, rad_per_deg / 60, false},
    {"arcmin", Base::angle, rad_per_deg / 60, false},
    {"minutes", Base::angle, rad_per_deg / 60, false},
    {"arcsec", Base::angle, rad_per_deg / 3600, false},
    {"\"", Base::angle, rad_per_deg / 3600, false},
    {"urad", Base::angle, 1e-6, false},
    {"kg", Base::mass, 1},
    {"g", Base::mass, 1e-3},
    {"lb", Base::mass, kg_per_pound},
    {"oz", Base::mass, kg_per_pound / 16},
    {"lbs", Base::mass, kg_per_pound, false},
    {"t", Base::mass, 1000, false},
    {"lbm", Base::mass, kg_per_pound, false},
    {"N", Base::force, 1},
    {"kN", Base::force, 1000},
    {"lbf", Base::force, pound_force},
    {"lb", Base::force, pound_force, false},
    {"kgf", Base::force, standard_gravity, false},
    {"daN", Base::force, 10, false},
    {"lbs", Base::force, pound_force, false},
    {"W", Base::power, 1},
    {"kW", Base::power, 1000},
    {"hp", Base::power, horsepower},
    {"PS", Base::power, metric_horsepower, false},
    {"Nm", Base::torque, 1000},
    {"Nmm", Base::torque, 1},
    {"lbft", Base::torque, pound_force* foot},
    {"lbin", Base::torque, pound_force* in_mm},
    {"ftlb", Base::torque, pound_force* foot, false},
    {"inlb", Base::torque, pound_force* in_mm, false},
    {"lbfft", Base::torque, pound_force* foot, false},
    {"ftlbf", Base::torque, pound_force* foot, false},
    {"lbfin", Base::torque, pound_force* in_mm, false},
    {"inlbf", Base::torque, pound_force* in_mm, false},
    {"kNm", Base::torque, 1e6, false},
    {"Ncm", Base::torque, 10, false},
    {"Hz", Base::frequency, 1},
    {"kHz", Base::frequency, 1000},
    {"1/s", Base::frequency, 1, false},
    {"N/um", Base::stiffness, 1000},
    {"N/mm", Base::stiffness, 1},
    {"N/m", Base::stiffness, 1e-3},
    {"lbf/in", Base::stiffness, pound_force / in_mm},
    {"lb/in", Base::stiffness, pound_force / in_mm, false},
    {"kN/mm", Base::stiffness, 1000, false},
    {"MN/m", Base::stiffness, 1000, false},
    {"kN/m", Base::stiffness, 1, false},
    {"N/mm2", Base::stress, 1},
    {"MPa", Base::stress, 1},
    {"GPa", Base::stress, 1000},
    {"psi", Base::stress, kpa_per_psi / 1000},
    {"ksi", Base::stress, kpa_per_psi, false},
    {"kPa", Base::stress, 1e-3, false},
    {"Pa", Base::stress, 1e-6, false},
    {"kN/mm2", Base::stress, 1000, false},
    {"Msi", Base::stress, kpa_per_psi * 1000, false},
    {"kN/m2", Base::stress, 1e-3, false},
    {"1e-6/K", Base::expansion, 1e-6},
    {"um/m/K", Base::expansion, 1e-6},
    {"1/K", Base::expansion, 1},
    {"um/mK", Base::expansion, 1e-6, false},
    {"um/(mK)", Base::expansion, 1e-6, false},
    {"ppm/K", Base::expansion, 1e-6, false},
    {"1e-6/C", Base::expansion, 1e-6, false},
    {"um/m/C", Base::expansion, 1e-6, false},
    {"in/in/F", Base::expansion, 1.8, false},
    {"um/m\u00b0C", Base::expansion, 1e-6, false},
    {"um/m/\u00b0C", Base::expansion, 1e-6, false},
    {"10-6/K", Base::expansion, 1e-6, false},
    {"m/min", Base::speed, 1000.0 / 60},
    {"mm/s", Base::speed, 1},
    {"m/s", Base::speed, 1000},
    {"mm/min", Base::speed, 1.0 / 60},
    {"ft/min", Base::speed, foot / 60},
    {"in/min", Base::speed, in_mm / 60},
    {"fpm", Base::speed, foot / 60, false},
    {"sfm", Base::speed, foot / 60, false},
    {"ipm", Base::speed, in_mm / 60, false},
    {"in/s", Base::speed, in_mm, false},
    {"m/s2", Base::acceleration, 1000},
    {"mm/s2", Base::acceleration, 1},
    {"in/s2", Base::acceleration, in_mm},
    {"ft/s2", Base::acceleration, foot, false},
    {"g", Base::acceleration, standard_gravity * 1000, false},
    {"cm3", Base::volume, 1000},
    {"mm3", Base::volume, 1},
    {"ml", Base::volume, 1000},
    {"l", Base::volume, 1e6},
    {"in3", Base::volume, in_mm* in_mm* in_mm},
    {"cc", Base::volume, 1000, false},
    {"cuin", Base::volume, in_mm* in_mm* in_mm, false},
    {"ccm", Base::volume, 1000, false},
    {"litre", Base::volume, 1e6, false},
    {"dm3", Base::volume, 1e6, false},
    {"cm2", Base::area, 100},
    {"mm2", Base::area, 1},
    {"in2", Base::area, in_mm* in_mm},
    {"sqin", Base::area, in_mm* in_mm, false},
    {"kPa", Base::vacuum, 1},
    {"inHg", Base::vacuum, kpa_per_inhg},
    {"mbar", Base::vacuum, 0.1},
    {"psi", Base::vacuum, kpa_per_psi},
    {"bar", Base::vacuum, 100, false},
    {"hPa", Base::vacuum, 0.1, false},
    {"Pa", Base::vacuum, 1e-3, false},
    {"mmHg", Base::vacuum, kpa_per_inhg / in_mm, false},
    {"Torr", Base::vacuum, kpa_per_inhg / in_mm, false},
    {"%", Base::ratio, 0.01},
    {"rpm", Base::rotation, 1},
    {"1/min", Base::rotation, 1},
    {"r/min", Base::rotation, 1, false},
    {"turns/min", Base::rotation, 1, false},
    {"s", Base::time, 1},
    {"ms", Base::time, 1e-3},
    {"sec", Base::time, 1, false},
});

constexpr auto measures = std::to_array<Measure>({
    {Dimension::length, "a length", Base::length, "", 1, 1},
    {Dimension::feed, "a feed per turn", Base::length, "", 1, 1},
    {Dimension::angle, "an angle", Base::angle, "deg", rad_per_deg, 1},
    {Dimension::mass, "a mass", Base::mass, "kg", 1, 1},
    {Dimension::force, "a force", Base::force, "N", 1, 1},
    {Dimension::power, "a power", Base::power, "W", 1, 1},
    {Dimension::torque, "a torque", Base::torque, "Nm", 1000, 1},
    {Dimension::frequency, "a frequency", Base::frequency, "Hz", 1, 1},
    {Dimension::stiffness, "a stiffness", Base::stiffness, "N/um", 1000, 1},
    {Dimension::specific_cut, "a specific cutting force", Base::stress, "N/mm2", 1, 1},
    {Dimension::modulus, "an elastic modulus", Base::stress, "GPa", 1000, 1},
    {Dimension::expansion, "an expansion", Base::expansion, "1e-6/K", 1e-6, 1},
    {Dimension::surface_speed, "a speed", Base::speed, "m/min", 1000.0 / 60, 1000.0 / 60},
    {Dimension::axis_speed, "a speed", Base::speed, "m/min", 1000.0 / 60, 1},
    {Dimension::acceleration, "an acceleration", Base::acceleration, "m/s2", 1000, 1},
    {Dimension::volume, "a volume", Base::volume, "cm3", 1000, 1},
    {Dimension::area, "an area", Base::area, "cm2", 100, 1},
    {Dimension::vacuum, "a vacuum", Base::vacuum, "kPa", 1, 1},
    {Dimension::ratio, "a ratio", Base::ratio, "", 1, 1},
    {Dimension::rotation, "a spindle speed", Base::rotation, "rpm", 1, 1},
    {Dimension::time, "a time", Base::time, "s", 1, 1},
    {Dimension::number, "a plain number", Base::number, "", 1, 1},
});

bool same_but_for_case(std::string_view a, std::string_view b) {
    if (a.size() != b.size()) return false;
    for (std::size_t i = 0; i < a.size(); ++i)
        if (std::tolower(static_cast<unsigned char>(a[i])) != std::tolower(static_cast<unsigned char>(b[i])))
            return false;
    return true;
}

}  // namespace

const Measure& measure(Dimension dimension) {
    return measures[static_cast<std::size_t>(dimension)];
}

std::span<const Unit> all_units() {
    return unit_table;
}

bool fits(const Measure& m, Base base) {
    return base == m.base || (m.dimension == Dimension::feed && base == Base::per_turn);
}

const Unit* find_unit(std::string_view text, const Measure& m) {
    for (const auto& unit : unit_table)
        if (fits(m, unit.base) && unit.text == text) return &unit;
    for (const auto& unit : unit_table)
        if (fits(m, unit.base) && same_but_for_case(unit.text, text)) return &unit;
    return nullptr;
}

std::optional<std::string_view> measured_by(std::string_view text) {
    for (const bool by_case : {true, false})
        for (const auto& unit : unit_table)
            if (by_case ? unit.text == text : same_but_for_case(unit.text, text))
                for (const auto& m : measures)
                    if (fits(m, unit.base)) return m.name;
    return std::nullopt;
}

}  // namespace seatwright::job
