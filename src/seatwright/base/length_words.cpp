#include "seatwright/base/length_words.hpp"

#include <fmt/format.h>

namespace seatwright {

std::string length_words(double mm, LengthUnit unit) {
    return unit == LengthUnit::inch ? fmt::format("{:.4f} in", mm / mm_per_inch)
                                    : fmt::format("{:.3f} mm", mm);
}

std::string depth_words(double mm, LengthUnit unit) {
    return unit == LengthUnit::inch ? fmt::format("{:.2f} in", mm / mm_per_inch)
                                    : fmt::format("{:.1f} mm", mm);
}

}  // namespace seatwright
