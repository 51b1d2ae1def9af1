#include "seatwright/job/wrong_value.hpp"

#include <fmt/format.h>

#include <cmath>

#include "seatwright/job/wanted.hpp"

namespace seatwright::job {
namespace {

// Lengths beyond this are slips of a decimal, and keep every later square and cube finite.
constexpr double length_limit_mm = 1e5;
constexpr double number_limit = 1e12;

bool is_choice(std::string_view choices, std::string_view word) {
    while (true) {
        const auto bar = choices.find('|');
        if (choices.substr(0, bar) == word) return true;
        if (bar == std::string_view::npos) return false;
        choices.remove_prefix(bar + 1);
    }
}

}  // namespace

std::string_view type_name(toml::Kind kind) {
    switch (kind) {
        case toml::Kind::text:
            return "a text";
        case toml::Kind::integer:
            return "a whole number";
        case toml::Kind::number:
            return "a number";
        case toml::Kind::flag:
            return "true or false";
        case toml::Kind::table:
            return "a table";
        case toml::Kind::list:
            return "a list";
        case toml::Kind::moment:
            return "a date";
        default:
            return "nothing";
    }
}

std::string out_of_bounds(double value, const Key& key, LengthUnit units) {
    const bool is_length = key.dimension == Dimension::length || key.dimension == Dimension::feed;
    if (!std::isfinite(value) || std::abs(value) > (is_length ? length_limit_mm : number_limit))
        return is_length ? fmt::format("is longer than {}; check unit and decimal point",
                                       units == LengthUnit::inch ? "300 ft" : "100 m")
                         : "is too large a number; check unit and decimal point";
    const auto limit = [&](double bare) { return from_bare(bare, key.dimension, LengthUnit::mm); };
    const double low = limit(key.bounds.low), high = limit(key.bounds.high);
    const bool below = key.bounds.low_open ? value <= low : value < low;
    const bool above = key.bounds.high_open ? value >= high : value > high;
    if (!below && !above) return "";
    const auto unit = bare_unit_of(key.dimension, units);
    return fmt::format("is {:.6g}{}{}; it must be {}", to_bare(value, key.dimension, units),
                       unit.empty() ? "" : " ", unit, bounds_in_words(key, units));
}

bool takes_whole_number(const Key& key) {
    return key.type == ValueType::label ||
           (key.type == ValueType::choice && key.dimension == Dimension::number);
}

std::string not_that_word(std::string_view word, const Key& key) {
    if (key.type == ValueType::label && (word.empty() || word.size() > 64))
        return "must be a text of 1 to 64 letters";
    if (key.type == ValueType::choice && !is_choice(key.choices, word))
        return fmt::format("is \"{}\"; it must be one of {}", word, in_list(key.choices));
    return "";
}

}  // namespace seatwright::job
