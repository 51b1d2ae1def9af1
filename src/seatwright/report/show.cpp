#include "seatwright/report/show.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/report/said_figures.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::report {

namespace {

constexpr int inch_decimals = 4;
constexpr int mm_decimals = 3;
constexpr const char* unknown = "–";

// Fixed digits without a minus sign before a zero.
std::string fixed(double v, int decimals) {
    const double scale = std::pow(10.0, decimals);
    if (std::abs(v) < 0.5 / scale) v = 0;
    return fmt::format("{:.{}f}", v, decimals);
}

// At least `decimals`.
std::string fixed_up(double v, int decimals) {
    const int most = decimals + 2;
    constexpr double rounding = 1e-6;  // of the last figure: a size read in inches and held in mm
    if (v > 0)
        while (decimals < most && v * std::pow(10.0, decimals) < 0.5 - rounding) ++decimals;
    const double scale = std::pow(10.0, decimals);
    const double least = v > 0 ? 1 : 0;
    return fixed(std::max(std::ceil(v * scale - rounding), least) / scale, decimals);
}

}  // namespace

std::string length(std::optional<double> mm, LengthUnit unit) {
    if (!mm || !std::isfinite(*mm)) return unknown;
    return unit == LengthUnit::inch ? fixed(*mm / mm_per_inch, inch_decimals) : fixed(*mm, mm_decimals);
}

std::string uncertainty(std::optional<double> mm, LengthUnit unit) {
    if (!mm || !std::isfinite(*mm)) return unknown;
    return unit == LengthUnit::inch ? fixed_up(*mm / mm_per_inch, inch_decimals) : fixed_up(*mm, mm_decimals);
}

std::string length_with_unit(std::optional<double> mm, LengthUnit unit) {
    if (!mm || !std::isfinite(*mm)) return unknown;
    return length(mm, unit) + " " + unit_name(unit);
}

std::string angle(std::optional<double> rad, int decimals) {
    if (!rad || !std::isfinite(*rad)) return unknown;
    return fixed(deg(*rad), decimals);
}

std::string percent(std::optional<double> probability) {
    return in_words(chance_said(probability), {});
}

std::string vacuum(double kpa, LengthUnit unit, int decimals) {
    return fixed(unit == LengthUnit::inch ? kpa / kpa_per_inhg : kpa, decimals);
}

std::string vacuum_uncertainty(double kpa, LengthUnit unit) {
    return fixed_up(unit == LengthUnit::inch ? kpa / kpa_per_inhg : kpa, 1);
}

const char* vacuum_unit_name(LengthUnit unit) {
    return unit == LengthUnit::inch ? "inHg" : "kPa";
}

const char* unit_name(LengthUnit unit) {
    return unit == LengthUnit::inch ? "in" : "mm";
}

}  // namespace seatwright::report
