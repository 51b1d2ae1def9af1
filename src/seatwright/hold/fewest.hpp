// The least number of sets that cover everything.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/hold/cover.hpp"

namespace seatwright::hold {

struct FewestSets {
    std::vector<std::size_t> sets;  // indices into the sets given
    std::size_t at_least = 0;       // no cover has fewer
    bool proven = true;             // false: the cap on the search was met; still a cover
};

// A cover, the widest of what is left taken each time; indices into the sets given, each member in some set
// (require).
std::vector<std::size_t> greedy_cover(std::size_t n, const std::vector<Members>& sets);

// Search nodes spent before the best cover so far is returned as not proven.
inline constexpr long fewest_node_cap = 60'000;

// Covers members 0…n−1 (each must be in some set, require). Branch and bound with set and member dominance,
// forced sets, splitting into independent parts and a table of parts already solved. Deterministic.
FewestSets fewest_sets(std::size_t n, const std::vector<Members>& sets);

}  // namespace seatwright::hold
