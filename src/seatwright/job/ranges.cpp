#include "seatwright/job/ranges.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <map>
#include <vector>

#include "seatwright/job/keys.hpp"
#include "seatwright/job/measures.hpp"

namespace seatwright::job {
namespace {

using enum Dimension;

std::vector<Plausible> gather() {
    std::vector<Plausible> out;
    for (const Key& key : all_keys())
        if (!key.trade.what.empty())
            out.push_back(
                {key.path, key.trade.what, key.trade.low, key.trade.high, key.dimension, key.trade.basis});
    return out;
}

// A range in bare units, as the table has it, in memory units.
double in_memory(double bare, Dimension dimension) {
    return from_bare(bare, dimension, LengthUnit::mm);
}

// The number at the start of what was typed: "500 inHg" → "500".
std::string_view number_of(std::string_view typed) {
    const auto part = [](char c) {
        return std::isdigit(static_cast<unsigned char>(c)) != 0 || c == '.' || c == ',' || c == '-' ||
               c == '+' || c == '/' || c == ' ';
    };
    std::size_t end = 0;
    while (end < typed.size() && part(typed[end])) ++end;
    while (end > 0 && typed[end - 1] == ' ') --end;
    return typed.substr(0, end);
}

}  // namespace

std::span<const Plausible> plausible_ranges() {
    static const std::vector<Plausible> table = gather();
    return table;
}

const Plausible* plausible_for(std::string_view key) {
    static const auto by_key = [] {
        std::map<std::string_view, const Plausible*> out;
        for (const auto& row : plausible_ranges()) out.emplace(row.key, &row);
        return out;
    }();
    const auto at = by_key.find(key);
    return at == by_key.end() ? nullptr : at->second;
}

bool can_be(const Plausible& range, double value) {
    // An end that was typed may differ from the table's in the last bits of a conversion.
    constexpr double rounding = 1e-9;
    const double low = in_memory(range.low, range.dimension), high = in_memory(range.high, range.dimension);
    const double slack = rounding * std::max(std::abs(low), std::abs(high));
    return low - slack <= value && value <= high + slack;
}

std::string figure_words(double value, Dimension dimension, LengthUnit unit) {
    if (dimension == vacuum && unit == LengthUnit::inch)
        return fmt::format("{:.6g} inHg", value / kpa_per_inhg);
    const auto word = bare_unit_of(dimension, unit);
    return fmt::format("{:.6g}{}{}", to_bare(value, dimension, unit), word.empty() ? "" : " ", word);
}

std::optional<std::string_view> unit_that_fits(const Plausible& range, std::string_view typed,
                                               LengthUnit file_unit) {
    const std::string number(number_of(typed));
    const auto as_written = parse_quantity(typed, range.dimension, file_unit);
    const auto& m = measure(range.dimension);
    for (const auto& unit : all_units()) {
        if (!unit.shown || !fits(m, unit.base)) continue;
        const auto other = parse_quantity(number + " " + std::string(unit.text), range.dimension, file_unit);
        if (other && as_written && *other != *as_written && can_be(range, *other)) return unit.text;
    }
    return std::nullopt;
}

}  // namespace seatwright::job
