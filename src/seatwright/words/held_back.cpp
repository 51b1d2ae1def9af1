#include "seatwright/words/held_back.hpp"

#include <array>

namespace seatwright {

namespace {

constexpr std::array<std::string_view, 23> words{
    "not-measured", "below-finish", "too-deep",    "guide-repair", "no-pilot", "pilot-window",
    "guide-room",   "no-cutter",    "not-allowed", "touch-first",  "fit",      "way-round",
    "reach",        "travel",       "plumb",       "safety",       "clash",    "zero-void",
    "trim-large",   "doubt",        "suspect",     "not-from-you", "missing"};
static_assert(words.size() == static_cast<std::size_t>(HeldCode::missing) + 1);

}  // namespace

std::string_view word_of(HeldCode code) {
    return words[static_cast<std::size_t>(code)];
}

}  // namespace seatwright
