// The largest groups of directions that one attitude holds within a given plumb error.
//
// The attitudes that hold a group form a patch bounded by circles about the directions and by the border of
// the reach. It is a whole disc about one direction, or it has a corner: two circles crossing, a circle
// crossing the border, a foot on the border, or a corner of the reach. So the groups held at those places are
// all that are needed: about 2·n² places for n directions, where the places of least error are about n³/6.
#pragma once

#include <vector>

#include "seatwright/hold/attitude.hpp"
#include "seatwright/hold/cover.hpp"

namespace seatwright::hold {

// Groups (indices into `axes`, at most 128) held within `radius`, a few angle_tie given, none inside another.
// Ascending, so that the same directions give the same list.
std::vector<Members> groups_within(const std::vector<Vec3>& axes, const Reach& reach, double radius);

// Drops what is inside another or there twice. Ascending.
std::vector<Members> largest_only(std::vector<Members> groups);

}  // namespace seatwright::hold
