#include "seatwright/job/ranges.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
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

namespace {

// Behind the name of a value in JSON, where figures stand in the units of bare numbers beside mm.
std::string_view json_key_of(Dimension dimension) {
    constexpr std::array<std::string_view, static_cast<std::size_t>(number) + 1> keys{
        "_mm",       "_mm_per_turn", "_deg",       "_kg",  "_n",         "_w",         "_nm",
        "_hz",       "_n_per_um",    "_n_per_mm2", "_gpa", "_1e6_per_k", "_m_per_min", "_m_per_min",
        "_m_per_s2", "_cm3",         "_cm2",       "_kpa", "",           "_rpm",       "_s",
        ""};
    return keys.at(static_cast<std::size_t>(dimension));
}

}  // namespace

Figure as_typed(double value, Dimension dimension) {
    constexpr int digits = 6;
    static const auto all = [] {
        std::map<Dimension, seatwright::Measure> out;
        for (int d = 0; d <= static_cast<int>(Dimension::number); ++d) {
            const auto of = static_cast<Dimension>(d);
            const auto beside = [&](LengthUnit unit) {
                return Written{bare_unit_of(of, unit), from_bare(1, of, unit), digits};
            };
            const Written metric = beside(LengthUnit::mm);
            const Written customary =
                of == vacuum ? Written{"inHg", kpa_per_inhg, digits} : beside(LengthUnit::inch);
            out.emplace(
                of, seatwright::Measure{metric, customary, json_key_of(of), metric.unit_size, Style::digits});
        }
        return out;
    }();
    return {&all.at(dimension), value};
}

std::string figure_words(double value, Dimension dimension, LengthUnit unit) {
    return written(as_typed(value, dimension), unit);
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
