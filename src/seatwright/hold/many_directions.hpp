// Setups of one cluster of many distinct directions, where the places of least error are too many to list.
//
// Works with groups held within a radius instead (groups_within.hpp): the fewest that cover at the plumb
// limit, then, setup by setup from the worst down, the least radius at which so many still do. Same answer as
// the list of all places (setups.cpp) where both finish; the tests hold one against the other.
#pragma once

#include <vector>

#include "seatwright/hold/groups_within.hpp"

namespace seatwright::hold {

struct Parting {
    std::vector<std::vector<std::size_t>> groups;  // indices into the axes given, worst first
    std::size_t at_least = 0;                      // no plan has fewer
    bool proven = true;                            // the plumb errors are as small as can be, too
};

// Linear programs solved at most: about three seconds at 128 directions.
inline constexpr long setup_work = 1200;

// Every axis must be within `limit` of some attitude of the reach (require).
Parting part_many(const std::vector<Vec3>& axes, const Reach& reach, double limit, long work = setup_work);

}  // namespace seatwright::hold
