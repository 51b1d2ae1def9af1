#include "seatwright/job/quantity.hpp"

#include <fmt/format.h>

#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <optional>
#include <span>
#include <vector>

namespace seatwright::job {
namespace {

enum class Base {
    length,
    angle,
    mass,
    force,
    power,
    torque,
    frequency,
    stiffness,
    stress,
    expansion,
    speed,
    acceleration,
    volume,
    area,
    vacuum,
    ratio,
    rotation,
    number,
    per_turn
};

struct Unit {
    std::string_view text;  // as compared: no spaces, u for the micro sign, 2 and 3 for raised figures
    Base base;
    double
        factor;  // to the base's own unit: mm, rad, kg, N, W, N·mm, Hz, N/mm, MPa, 1/K, mm/s, mm/s2, mm3, kPa
    bool shown = true;  // offered in sentences; spellings and rare ones are understood but not offered
};

constexpr double pound_force = kg_per_pound * standard_gravity;
constexpr double inch = mm_per_inch;
constexpr double foot = 12 * mm_per_inch;
// Mechanical horsepower, 550 ft·lbf/s; metric horsepower 75 kgf·m/s (NIST SP 811, appendix B).
constexpr double horsepower = 550 * pound_force * foot / 1000;
constexpr double metric_horsepower = 75 * standard_gravity;
constexpr double kpa_per_psi = pound_force / (inch * inch) * 1000;

constexpr auto unit_table = std::to_array<Unit>({
    {"mm", Base::length, 1},
    {"in", Base::length, inch},
    {"um", Base::length, 1e-3},
    {"cm", Base::length, 10},
    {"m", Base::length, 1000},
    {"thou", Base::length, inch / 1000},
    {"ft", Base::length, foot},
    {"\"", Base::length, inch, false},
    {"''", Base::length, inch, false},
    {"'", Base::length, foot, false},
    {"inch", Base::length, inch, false},
    {"inches", Base::length, inch, false},
    {"mil", Base::length, inch / 1000, false},
    {"micron", Base::length, 1e-3, false},
    {"microns", Base::length, 1e-3, false},
    {"nm", Base::length, 1e-6, false},
    {"dm", Base::length, 100, false},
    {"feet", Base::length, foot, false},
    {"foot", Base::length, foot, false},
    {"mm/turn", Base::per_turn, 1},
    {"in/turn", Base::per_turn, inch},
    {"mm/rev", Base::per_turn, 1, false},
    {"in/rev", Base::per_turn, inch, false},
    {"ipr", Base::per_turn, inch, false},
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
    {"lbin", Base::torque, pound_force* inch},
    {"ftlb", Base::torque, pound_force* foot, false},
    {"inlb", Base::torque, pound_force* inch, false},
    {"lbfft", Base::torque, pound_force* foot, false},
    {"ftlbf", Base::torque, pound_force* foot, false},
    {"lbfin", Base::torque, pound_force* inch, false},
    {"inlbf", Base::torque, pound_force* inch, false},
    {"kNm", Base::torque, 1e6, false},
    {"Ncm", Base::torque, 10, false},
    {"Hz", Base::frequency, 1},
    {"kHz", Base::frequency, 1000},
    {"1/s", Base::frequency, 1, false},
    {"N/um", Base::stiffness, 1000},
    {"N/mm", Base::stiffness, 1},
    {"N/m", Base::stiffness, 1e-3},
    {"lbf/in", Base::stiffness, pound_force / inch},
    {"lb/in", Base::stiffness, pound_force / inch, false},
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
    {"in/min", Base::speed, inch / 60},
    {"fpm", Base::speed, foot / 60, false},
    {"sfm", Base::speed, foot / 60, false},
    {"ipm", Base::speed, inch / 60, false},
    {"in/s", Base::speed, inch, false},
    {"m/s2", Base::acceleration, 1000},
    {"mm/s2", Base::acceleration, 1},
    {"in/s2", Base::acceleration, inch},
    {"ft/s2", Base::acceleration, foot, false},
    {"g", Base::acceleration, standard_gravity * 1000, false},
    {"cm3", Base::volume, 1000},
    {"mm3", Base::volume, 1},
    {"ml", Base::volume, 1000},
    {"l", Base::volume, 1e6},
    {"in3", Base::volume, inch* inch* inch},
    {"cc", Base::volume, 1000, false},
    {"cuin", Base::volume, inch* inch* inch, false},
    {"ccm", Base::volume, 1000, false},
    {"litre", Base::volume, 1e6, false},
    {"dm3", Base::volume, 1e6, false},
    {"cm2", Base::area, 100},
    {"mm2", Base::area, 1},
    {"in2", Base::area, inch* inch},
    {"sqin", Base::area, inch* inch, false},
    {"kPa", Base::vacuum, 1},
    {"inHg", Base::vacuum, kpa_per_inhg},
    {"mbar", Base::vacuum, 0.1},
    {"psi", Base::vacuum, kpa_per_psi},
    {"bar", Base::vacuum, 100, false},
    {"hPa", Base::vacuum, 0.1, false},
    {"Pa", Base::vacuum, 1e-3, false},
    {"mmHg", Base::vacuum, kpa_per_inhg / inch, false},
    {"Torr", Base::vacuum, kpa_per_inhg / inch, false},
    {"%", Base::ratio, 0.01},
    {"rpm", Base::rotation, 1},
    {"1/min", Base::rotation, 1},
    {"r/min", Base::rotation, 1, false},
    {"turns/min", Base::rotation, 1, false},
});

struct Measure {
    Dimension dimension;
    std::string_view name;
    Base base;
    std::string_view bare;  // unit of a bare number; empty = the file's length unit or none
    double bare_factor;     // of the bare unit to the base's own unit
    double memory_factor;   // of the memory unit to the base's own unit
};

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
    {Dimension::number, "a plain number", Base::number, "", 1, 1},
});

const Measure& measure(Dimension dimension) {
    return measures[static_cast<std::size_t>(dimension)];
}

bool fits(const Measure& m, Base base) {
    return base == m.base || (m.dimension == Dimension::feed && base == Base::per_turn);
}

double length_factor(LengthUnit units) {
    return units == LengthUnit::inch ? mm_per_inch : 1.0;
}

// A text made comparable: spaces (also the no-break kinds), dots and stars between units left out, the micro
// sign as u, raised figures lowered, typographic marks as plain ones.
std::string plain_text(std::string_view text) {
    static constexpr std::pair<std::string_view, std::string_view> swaps[] = {
        {"\u00a0", " "},    {"\u202f", " "},    {"\u2009", " "},    {"\u00b5", "u"}, {"\u03bc", "u"},
        {"\u00b2", "2"},    {"\u00b3", "3"},    {"\u00b7", ""},     {"\u22c5", ""},  {"\u2212", "-"},
        {"\u2013", "-"},    {"\u2032", "'"},    {"\u2033", "\""},   {"\u2019", "'"}, {"\u201d", "\""},
        {"\u00bd", " 1/2"}, {"\u00bc", " 1/4"}, {"\u00be", " 3/4"}, {"\t", " "},     {"^", ""},
        {"*", ""}};
    std::string out;
    for (std::size_t i = 0; i < text.size();) {
        bool swapped = false;
        for (const auto& [from, to] : swaps)
            if (text.substr(i).starts_with(from)) {
                out += to;
                i += from.size();
                swapped = true;
                break;
            }
        if (!swapped) out += text[i++];
    }
    const auto first = out.find_first_not_of(' ');
    if (first == std::string::npos) return {};
    return out.substr(first, out.find_last_not_of(' ') - first + 1);
}

// Without blanks, and "ft-lb" as "ftlb".
std::string unit_text(std::string_view rest) {
    const auto letter = [&](std::size_t i) {
        return i < rest.size() && std::isalpha(static_cast<unsigned char>(rest[i])) != 0;
    };
    std::string out;
    for (std::size_t i = 0; i < rest.size(); ++i) {
        const bool joins = rest[i] == '-' && i > 0 && letter(i - 1) && letter(i + 1);
        if (rest[i] != ' ' && !joins) out += rest[i];
    }
    return out;
}

bool same_but_for_case(std::string_view a, std::string_view b) {
    if (a.size() != b.size()) return false;
    for (std::size_t i = 0; i < a.size(); ++i)
        if (std::tolower(static_cast<unsigned char>(a[i])) != std::tolower(static_cast<unsigned char>(b[i])))
            return false;
    return true;
}

// The unit for this dimension: as written, else whatever its case.
const Unit* find_unit(std::string_view text, const Measure& m) {
    for (const auto& unit : unit_table)
        if (fits(m, unit.base) && unit.text == text) return &unit;
    for (const auto& unit : unit_table)
        if (fits(m, unit.base) && same_but_for_case(unit.text, text)) return &unit;
    return nullptr;
}

// The name of what a unit measures, if it is a unit at all.
std::optional<std::string_view> measured_by(std::string_view text) {
    for (const bool by_case : {true, false})
        for (const auto& unit : unit_table)
            if (by_case ? unit.text == text : same_but_for_case(unit.text, text))
                for (const auto& m : measures)
                    if (fits(m, unit.base)) return m.name;
    return std::nullopt;
}

struct Number {
    double value;
    std::size_t used;  // characters
};

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

std::size_t digits_from(std::string_view text, std::size_t at) {
    while (at < text.size() && is_digit(text[at])) ++at;
    return at;
}

double value_of(std::string_view digits) {
    double value = 0;
    const auto result = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    // Out of range keeps value at 0, so say infinite: the caller refuses it.
    if (result.ec == std::errc::result_out_of_range) return HUGE_VAL;
    return value;
}

// `9/16` at `at`: numerator and denominator without sign.
std::optional<Number> fraction_at(std::string_view text, std::size_t at) {
    const auto top_end = digits_from(text, at);
    if (top_end == at || top_end >= text.size() || text[top_end] != '/') return std::nullopt;
    const auto low_end = digits_from(text, top_end + 1);
    if (low_end == top_end + 1) return std::nullopt;
    const double low = value_of(text.substr(top_end + 1, low_end - top_end - 1));
    if (low == 0) return std::nullopt;
    return Number{value_of(text.substr(at, top_end - at)) / low, low_end};
}

std::optional<Number> decimal_at(std::string_view text, std::size_t at) {
    std::string digits;
    std::size_t i = digits_from(text, at);
    digits += text.substr(at, i - at);
    if (i < text.size() && (text[i] == '.' || text[i] == ',')) {
        const auto end = digits_from(text, i + 1);
        if (end == i + 1 && digits.empty()) return std::nullopt;
        digits += "." + std::string(text.substr(i + 1, end - i - 1));
        i = end;
    }
    if (digits.empty()) return std::nullopt;
    // An exponent only where digits follow, so that "2 ell" or "3 e" stay units.
    if (i < text.size() && (text[i] == 'e' || text[i] == 'E')) {
        std::size_t j = i + 1;
        if (j < text.size() && (text[j] == '+' || text[j] == '-')) ++j;
        const auto end = digits_from(text, j);
        if (end > j) {
            digits += 'e';
            digits +=
                text.substr(i + 1 + (text[i + 1] == '+' ? 1 : 0), end - i - 1 - (text[i + 1] == '+' ? 1 : 0));
            i = end;
        }
    }
    if (digits.front() == '.') digits.insert(digits.begin(), '0');
    return Number{value_of(digits), i};
}

// The number a text starts with: sign, decimal or fraction, or a whole number and a fraction.
std::optional<Number> leading_number(std::string_view text) {
    std::size_t at = 0;
    double sign = 1;
    if (!text.empty() && (text[0] == '-' || text[0] == '+')) {
        sign = text[0] == '-' ? -1 : 1;
        at = 1;
        while (at < text.size() && text[at] == ' ') ++at;
    }
    if (const auto part = fraction_at(text, at)) return Number{sign * part->value, part->used};
    const auto whole_end = digits_from(text, at);
    if (whole_end > at) {
        std::size_t next = whole_end;
        while (next < text.size() && (text[next] == ' ' || text[next] == '-')) ++next;
        if (next > whole_end)
            if (const auto part = fraction_at(text, next))
                return Number{sign * (value_of(text.substr(at, whole_end - at)) + part->value), part->used};
    }
    const auto number = decimal_at(text, at);
    if (!number) return std::nullopt;
    return Number{sign * number->value, number->used};
}

// "0.0005 in/in", "0.05 mm/100 mm", "0.5 mm per m": two lengths, one over the other.
std::optional<double> ratio_of_lengths(double value, std::string_view rest) {
    const auto slash = rest.find('/');
    if (slash == std::string_view::npos) return std::nullopt;
    const Measure& m = measure(Dimension::length);
    const Unit* over = find_unit(unit_text(rest.substr(0, slash)), m);
    auto below = rest.substr(slash + 1);
    while (!below.empty() && below.front() == ' ') below.remove_prefix(1);
    double count = 1;
    if (!below.empty() && is_digit(below.front()))
        if (const auto number = leading_number(below)) {
            count = number->value;
            below.remove_prefix(number->used);
        }
    const Unit* under = find_unit(unit_text(below), m);
    if (!over || !under || count == 0) return std::nullopt;
    // Equal units cancel exactly.
    if (over->factor == under->factor) return value / count;
    return value * over->factor / (count * under->factor);
}

std::string wrong_unit(std::string_view unit, const Measure& m) {
    const auto choice = units_of(m.dimension);
    const std::string want = choice.empty() ? std::string("without a unit") : "in one of: " + choice;
    if (const auto other = measured_by(unit))
        return fmt::format("\"{}\" is the unit of {}; {} is wanted here, {}", unit, *other, m.name, want);
    return fmt::format("\"{}\" is not a unit known here; {} is wanted, {}", unit, m.name, want);
}

Parsed finite(double value, std::string_view text) {
    if (!std::isfinite(value)) return tl::unexpected(fmt::format("\"{}\" is too large a number", text));
    return value;
}

}  // namespace

std::string_view name_of(Dimension dimension) {
    return measure(dimension).name;
}

std::string units_of(Dimension dimension) {
    const auto& m = measure(dimension);
    std::string out;
    for (const auto& unit : unit_table)
        if (unit.shown && fits(m, unit.base)) out += (out.empty() ? "" : ", ") + std::string(unit.text);
    if (dimension == Dimension::ratio) out += ", mm/mm, in/in";
    return out;
}

std::string_view bare_unit_of(Dimension dimension, LengthUnit units) {
    const auto& m = measure(dimension);
    if (m.base == Base::length) return units == LengthUnit::inch ? "in" : "mm";
    return m.bare;
}

double from_bare(double value, Dimension dimension, LengthUnit units) {
    const auto& m = measure(dimension);
    if (m.base == Base::length) return value * length_factor(units);
    return value * (m.bare_factor / m.memory_factor);
}

double to_bare(double value, Dimension dimension, LengthUnit units) {
    const auto& m = measure(dimension);
    if (m.base == Base::length) return value / length_factor(units);
    return value / (m.bare_factor / m.memory_factor);
}

Parsed parse_quantity(std::string_view text, Dimension dimension, LengthUnit units) {
    const auto& m = measure(dimension);
    const std::string plain = plain_text(text);
    if (plain.empty())
        return tl::unexpected(fmt::format("is empty; {} is wanted, such as \"1.5 {}\"", m.name,
                                          bare_unit_of(dimension, units)));
    const auto number = leading_number(plain);
    if (!number)
        return tl::unexpected(
            fmt::format("\"{}\" does not start with a number; {} is wanted, such as \"1.5 {}\"", text, m.name,
                        bare_unit_of(dimension, units)));
    const std::string_view rest = std::string_view(plain).substr(number->used);
    if (!rest.empty() && (is_digit(rest.front()) || rest.front() == '.' || rest.front() == ','))
        return tl::unexpected(
            fmt::format("\"{}\" cannot be read; write one decimal point or comma and no "
                        "thousands separators",
                        text));
    const auto unit = unit_text(rest);
    if (unit.empty()) return finite(from_bare(number->value, dimension, units), text);
    if (m.base == Base::ratio)
        if (const auto ratio = ratio_of_lengths(number->value, rest)) return finite(*ratio, text);
    const Unit* found = find_unit(unit, m);
    if (!found) return tl::unexpected(wrong_unit(unit, m));
    return finite(number->value * (found->factor / m.memory_factor), text);
}

}  // namespace seatwright::job
