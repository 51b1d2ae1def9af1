// Fewest sets that cover everything, and among such covers the one whose costs, sorted from the largest down,
// come first in dictionary order. Exact, by branch and bound.
#pragma once

#include <array>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace seatwright::hold {

// A set of up to 128 members.
struct Members {
    std::array<std::uint64_t, 2> words{};

    static Members first(std::size_t n);
    void add(std::size_t i) { words[i / 64] |= std::uint64_t{1} << (i % 64); }
    bool has(std::size_t i) const { return (words[i / 64] >> (i % 64)) & 1; }
    bool empty() const { return (words[0] | words[1]) == 0; }
    int count() const { return std::popcount(words[0]) + std::popcount(words[1]); }
    Members without(const Members& o) const { return {{words[0] & ~o.words[0], words[1] & ~o.words[1]}}; }
    Members both(const Members& o) const { return {{words[0] & o.words[0], words[1] & o.words[1]}}; }
    Members either(const Members& o) const { return {{words[0] | o.words[0], words[1] | o.words[1]}}; }
    bool within(const Members& o) const { return without(o).empty(); }
    // The members in ascending order.
    std::vector<std::size_t> list() const;
    auto operator<=>(const Members&) const = default;
};

struct CoverSet {
    Members members;
    double cost = 0;
};

struct Cover {
    std::vector<std::size_t> sets;  // indices into the sets given, largest cost first
    std::size_t at_least = 0;       // no cover has fewer; less than sets.size(): the search met its cap
    bool proven = true;             // false: that, or lesser costs may exist with as many sets
};

// Search nodes spent on the costs of one cover before the best found so far is returned as not proven.
inline constexpr long cover_node_cap = 200'000;

// Covers members 0…n−1; costs closer than `tie` count as equal. Every member must be in some set (require).
// Method: docs/setups.md. Deterministic.
Cover least_cover(std::size_t n, const std::vector<CoverSet>& sets, double tie);

}  // namespace seatwright::hold
