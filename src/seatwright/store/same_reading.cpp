#include "seatwright/store/same_reading.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>

#include "seatwright/base/units.hpp"
#include "seatwright/job/quantity.hpp"
#include "seatwright/store/reading_tables.hpp"

namespace seatwright::store {

namespace {

// One number of a reading: its value, the size of one of the unit it was read in, and half the last step
// written, all in memory units.
struct Read {
    double value = 0;
    double unit = 1;
    double half_step = 0;
};

double half_step_of(const std::string& text, double unit) {
    if (text.find('/') != std::string::npos) return 0;  // a fraction says all it means
    const auto mark = text.find_first_of(".,");
    int decimals = 0;
    if (mark != std::string::npos)
        for (auto i = mark + 1; i < text.size() && std::isdigit(static_cast<unsigned char>(text[i])) != 0;
             ++i)
            ++decimals;
    return 0.5 * unit * std::pow(10.0, -decimals);
}

std::optional<Read> read_text(const std::string& text, const job::Key& key, LengthUnit units) {
    const auto value = job::parse_quantity(text, key.dimension, units);
    if (!value) return std::nullopt;
    Read out{*value, job::from_bare(1, key.dimension, units), 0};
    const auto suffix = std::find_if(text.begin(), text.end(), is_of_a_unit);
    if (suffix != text.end()) {
        const auto one = job::parse_quantity("1 " + std::string(suffix, text.end()), key.dimension, units);
        if (!one) return out;  // such as 19° 30': taken to the letter
        out.unit = *one;
    }
    out.half_step = half_step_of(text, out.unit);
    return out;
}

// A measured key's numbers, lists flattened in order; nothing if one of them is no number.
bool append_values(const Json& value, const job::Key& key, LengthUnit units, std::vector<Read>& out) {
    if (value.is_array())
        return std::all_of(value.begin(), value.end(),
                           [&](const Json& one) { return append_values(one, key, units, out); });
    if (value.is_number()) {
        const double unit = job::from_bare(1, key.dimension, units);
        out.push_back({job::from_bare(value.get<double>(), key.dimension, units), unit,
                       half_step_of(fmt::format("{}", value.get<double>()), unit)});
        return true;
    }
    if (!value.is_string()) return false;
    const auto read = read_text(value.get<std::string>(), key, units);
    if (read) out.push_back(*read);
    return read.has_value();
}

// No more than this is put down to rounding, however short a number was typed (0.3 for 0.3000): half the step
// of the coarser gauges in common use, 0.01 mm, 0.01 deg, 0.1 cm3, 1 kPa.
double most_rounding(job::Dimension dimension) {
    switch (dimension) {
        case job::Dimension::length:
            return 0.005;
        case job::Dimension::angle:
            return 0.005 * rad_per_deg;
        case job::Dimension::volume:
            return 50;
        case job::Dimension::vacuum:
            return 0.5;
        default:
            return 0;
    }
}

// Read in one unit, what differs differs. Read in two, either may have been rounded to what its gauge shows.
bool same_reading(const Read& a, const Read& b, job::Dimension dimension) {
    const double dust = 1e-12 * std::max(std::abs(a.value), std::abs(b.value));
    const bool one_unit = std::abs(a.unit - b.unit) <= 1e-9 * std::max(a.unit, b.unit);
    const double rounding =
        one_unit ? 0 : std::min(std::max(a.half_step, b.half_step), most_rounding(dimension));
    return std::abs(a.value - b.value) <= rounding + dust;
}

bool same_value(const NewEntry& a, const NewEntry& b, const std::string& name) {
    const Json &left = a.values.at(name), &right = b.values.at(name);
    const job::Key* key = row_of(a.kind, name);
    if (key == nullptr || !is_measured(*key)) return left == right;
    std::vector<Read> of_a, of_b;
    return append_values(left, *key, a.units, of_a) && append_values(right, *key, b.units, of_b) &&
           std::equal(of_a.begin(), of_a.end(), of_b.begin(), of_b.end(),
                      [&](const Read& x, const Read& y) { return same_reading(x, y, key->dimension); });
}

}  // namespace

bool same_quantity(const NewEntry& a, const NewEntry& b, const std::string& quantity) {
    const auto keys = keys_of(a, quantity);
    auto sorted = keys, others = keys_of(b, quantity);
    std::sort(sorted.begin(), sorted.end());
    std::sort(others.begin(), others.end());
    if (sorted != others) return false;
    return std::all_of(keys.begin(), keys.end(),
                       [&](const std::string& key) { return same_value(a, b, key); });
}

}  // namespace seatwright::store
