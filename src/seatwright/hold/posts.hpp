// The two bolt holes that carry the fixture's posts.
#pragma once

#include <optional>

#include "seatwright/hold/hold.hpp"

namespace seatwright::hold {

// Bolt-hole distances closer than this are equal: well below what a tape or a drawing tells apart, so that
// rounding never chooses between two rows.
inline constexpr double span_tie = 1e-6;  // mm
// Where the job does not give the holes' diameter; common practice, a bolt of 12 mm.
inline constexpr double usual_hole = 13;  // mm

// The pair the job names, else the two holes furthest apart in one row along X (y equal within half a hole);
// of rows equally long the one away from the loading side (the first in the job file where the fixture does
// not say); the two furthest apart at all where no row has two. a is the earlier hole in the job file.
// Nothing with fewer than two holes.
// With clearance s = hole − post each end sits anywhere in a disc of radius s/2 (uniform: sd per axis s/4);
// the difference of the two ends across the row, over the span, is the yaw: sd √2·s/(4·span).
std::optional<Posts> posts_of(const job::Head& head, const job::Fixture& fixture);

// Their midpoint as held in that setup, from its datum seat, the machine's X and Y (no signs of the readout).
Vec2 midpoint_of(const Posts& posts, const job::Head& head, const Setup& setup);

}  // namespace seatwright::hold
