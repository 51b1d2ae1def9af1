// The two bolt holes that carry the fixture's posts.
#pragma once

#include <optional>

#include "seatwright/hold/hold.hpp"

namespace seatwright::hold {

// Bolt-hole distances closer than this are equal: well below what a tape or a drawing tells apart, so that
// rounding never chooses between the two diagonals of a rectangle.
inline constexpr double span_tie = 1e-6;  // mm

// The pair the job names, else the two holes furthest apart (of equal pairs the one whose holes come first in
// the job file; a is then the earlier hole). Nothing with fewer than two holes.
// With clearance s = hole − post each end sits anywhere in a disc of radius s/2 (uniform: sd per axis s/4);
// the difference of the two ends across the row, over the span, is the yaw: sd √2·s/(4·span).
std::optional<Posts> posts_of(const job::Head& head, const job::Fixture& fixture);

}  // namespace seatwright::hold
