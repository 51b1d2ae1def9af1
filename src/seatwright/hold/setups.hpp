// Fewest setups that hold every guide plumb within the limit, then the least largest plumb error in each.
//
// Exactly: (1) the number of setups is least; (2) among such plans the worst plumb errors of the setups,
// sorted from the largest down, are first in dictionary order (the largest as small as can be, then the next,
// …); (3) a guide two of those setups could hold goes to the one where its plumb error is less, the earlier
// in case of a tie. Guides no attitude of the fixture holds within the limit are put, apart from the others,
// at the attitude best for them; those with the same best attitude share it. Method: docs/setups.md.
#pragma once

#include <vector>

#include "seatwright/hold/many_directions.hpp"
#include "seatwright/hold/minimax.hpp"

namespace seatwright::hold {

// Guide axes nearer to each other than this are one direction: below angle_tie, so that no answer depends
// on it.
inline constexpr double same_direction = 1e-13;

struct SetupGroup {
    Attitude attitude;
    std::vector<std::size_t> guides;  // indices into the axes given, ascending
    bool reachable = true;
};

struct SetupPlan {
    std::vector<SetupGroup> groups;  // by their first guide
    std::size_t at_least = 0;        // no plan has fewer setups; less than groups.size(): not settled
    bool proven = true;              // false: that, or lesser plumb errors may be had with as many setups
};

// `axes`: unit, z > 0, at most 128. `limit`: plumb limit, rad, angle_tie given.
// `work`: linear programs a cluster of many directions may take.
SetupPlan plan_setups(const std::vector<Vec3>& axes, const Reach& reach, double limit,
                      long work = setup_work);

}  // namespace seatwright::hold
