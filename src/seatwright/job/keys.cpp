#include "seatwright/job/keys.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <type_traits>

namespace seatwright::job {
namespace {

static_assert(!std::is_default_constructible_v<Who> && !std::is_default_constructible_v<Key>,
              "a key that does not say who changes it does not compile");

std::vector<Key> gather() {
    std::vector<Key> out;
    for (const auto part : {head_keys(), plan_keys(), form_keys(), work_keys(), machine_keys(), shop_keys(),
                            tool_keys(), forecast_keys(), reading_keys()})
        out.insert(out.end(), part.begin(), part.end());
    return out;
}

std::string number_in_words(double bare, const Key& key, LengthUnit units) {
    const bool whole = key.type == ValueType::integer || key.type == ValueType::pair;
    const double shown =
        whole ? bare : to_bare(from_bare(bare, key.dimension, LengthUnit::mm), key.dimension, units);
    const auto unit = whole || bare == 0 ? std::string_view{} : bare_unit_of(key.dimension, units);
    return fmt::format("{:.6g}{}{}", shown, unit.empty() ? "" : " ", unit);
}

}  // namespace

std::span<const Key> all_keys() {
    static const std::vector<Key> keys = gather();
    return keys;
}

std::string label_of(const Key& key) {
    std::string out(key.label.empty() ? key.path.substr(key.path.rfind('.') + 1) : key.label);
    if (out.ends_with("[]")) out.resize(out.size() - 2);
    std::replace(out.begin(), out.end(), '_', ' ');
    if (!out.empty()) out[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(out[0])));
    return out;
}

std::string bounds_in_words(const Key& key, LengthUnit units) {
    std::string out;
    if (std::isfinite(key.bounds.low))
        out = fmt::format("{} {}", key.bounds.low_open ? "above" : "at least",
                          number_in_words(key.bounds.low, key, units));
    if (std::isfinite(key.bounds.high))
        out += fmt::format("{}{} {}", out.empty() ? "" : ", ", key.bounds.high_open ? "below" : "at most",
                           number_in_words(key.bounds.high, key, units));
    return out;
}

}  // namespace seatwright::job
