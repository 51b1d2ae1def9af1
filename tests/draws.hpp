// How much a long test draws: little in ./check, the whole in ./check --all, which sets SEATWRIGHT_ALL. What
// a test asks of what it drew is the same for both. Tests that use it are named in tests/CMakeLists.txt and
// carry the label `long`.
#pragma once

#include <cstdlib>

namespace seatwright {

inline bool whole_draw() {
    return std::getenv("SEATWRIGHT_ALL") != nullptr;
}

// What takes a second takes half a minute there (tests/CMakeLists.txt says where).
#ifdef SEATWRIGHT_SLOWED
inline constexpr bool slowed_by_sanitizer = true;
#else
inline constexpr bool slowed_by_sanitizer = false;
#endif

// `slowed`: under a sanitizer, which looks for other faults than a draw does.
inline int drawn(int little, int whole, int slowed) {
    return whole_draw() ? whole : slowed_by_sanitizer ? slowed : little;
}

inline int drawn(int little, int whole) {
    return drawn(little, whole, little);
}

}  // namespace seatwright
