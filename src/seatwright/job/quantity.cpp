#include "seatwright/job/quantity.hpp"

#include <fmt/format.h>

#include <cctype>
#include <charconv>
#include <cmath>
#include <optional>

#include "seatwright/job/measures.hpp"

namespace seatwright::job {
namespace {

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

// "9/0", "1-9/00": a fraction nobody can mean.
bool divides_by_zero(std::string_view text) {
    for (auto slash = text.find('/'); slash != std::string_view::npos; slash = text.find('/', slash + 1)) {
        const auto end = digits_from(text, slash + 1);
        const auto below = text.substr(slash + 1, end - slash - 1);
        const bool whole = end >= text.size() || (text[end] != '.' && text[end] != ',');
        if (slash > 0 && is_digit(text[slash - 1]) && !below.empty() && whole &&
            below.find_first_not_of('0') == std::string_view::npos)
            return true;
    }
    return false;
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
    for (const auto& unit : all_units())
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
    if (divides_by_zero(plain))
        return tl::unexpected(
            fmt::format("\"{}\" divides by 0; a fraction needs a number below its line, such as 9/16", text));
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
