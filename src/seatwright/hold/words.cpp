#include "seatwright/hold/words.hpp"

#include <fmt/format.h>

#include <cmath>

namespace seatwright::hold {

std::string length_words(double mm, LengthUnit unit) {
    return unit == LengthUnit::inch ? fmt::format("{:.3f} in", mm / mm_per_inch)
                                    : fmt::format("{:.2f} mm", mm);
}

std::string angle_words(double rad) {
    const double degrees = deg(rad);
    const double rounded = std::round(degrees * 100) / 100;
    // Half of the last of four decimals: what cannot be told apart when printed.
    if (std::abs(degrees - rounded) < 5e-5) return fmt::format("{:.2f} deg", rounded + 0.0);
    return fmt::format("{:.4f} deg", degrees);
}

std::string mass_words(double kg, LengthUnit unit) {
    const std::string metric = fmt::format("{:.3g} kg", kg);
    return unit == LengthUnit::inch ? fmt::format("{} ({:.0f} lb)", metric, kg / kg_per_pound) : metric;
}

std::string ids_words(const std::vector<std::string>& ids) {
    // A longer list is not read; the number says it. One more than is shown would not shorten it.
    constexpr std::size_t shown = 7;
    if (ids.size() <= shown + 1) return fmt::format("{}", fmt::join(ids, ", "));
    return fmt::format("{} and {} more", fmt::join(ids.begin(), ids.begin() + shown, ", "),
                       ids.size() - shown);
}

const char* side_words(job::LoadSide side) {
    return side == job::LoadSide::back ? "back" : "front";
}

job::LoadSide opposite(job::LoadSide side) {
    return side == job::LoadSide::back ? job::LoadSide::front : job::LoadSide::back;
}

}  // namespace seatwright::hold
