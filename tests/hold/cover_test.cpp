// Covers against every choice of sets, on small random set systems.
#include "seatwright/hold/cover.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "directions.hpp"
#include "seatwright/hold/fewest.hpp"

namespace seatwright {
namespace {

std::vector<hold::CoverSet> random_sets(std::mt19937_64& random, std::size_t n, std::size_t count) {
    std::vector<hold::CoverSet> sets;
    for (std::size_t i = 0; i < n; ++i) {  // every member alone, so that a cover exists
        hold::CoverSet one;
        one.members.add(i);
        sets.push_back(one);
    }
    for (std::size_t s = 0; s < count; ++s) {
        hold::CoverSet set;
        for (std::size_t i = 0; i < n; ++i)
            if (random() % 3 == 0) set.members.add(i);
        // Few distinct costs, so that ties are common.
        set.cost = static_cast<double>(1 + random() % 6);
        if (!set.members.empty()) sets.push_back(set);
    }
    return sets;
}

// Fewest sets, then the sorted costs first in dictionary order, by trying every choice.
std::vector<double> best_of_all(std::size_t n, const std::vector<hold::CoverSet>& sets) {
    std::vector<double> best(n + 1, 1e9);
    for (std::size_t choice = 1; choice < (std::size_t{1} << sets.size()); ++choice) {
        hold::Members covered;
        std::vector<double> costs;
        for (std::size_t s = 0; s < sets.size(); ++s)
            if ((choice >> s) & 1) {
                covered = covered.either(sets[s].members);
                costs.push_back(sets[s].cost);
            }
        if (covered != hold::Members::first(n) || costs.size() > best.size()) continue;
        std::sort(costs.rbegin(), costs.rend());
        if (costs.size() < best.size() || costs < best) best = costs;
    }
    return best;
}

TEST(HoldCover, AgreesWithEveryChoice) {
    std::mt19937_64 random(15);
    std::size_t largest = 0;
    for (int trial = 0; trial < 120; ++trial) {
        const std::size_t n = 3 + random() % 5;
        const auto sets = random_sets(random, n, 6);
        const auto cover = hold::least_cover(n, sets, 1e-9);
        EXPECT_TRUE(cover.proven);
        EXPECT_EQ(cover.at_least, cover.sets.size());
        std::vector<double> costs;
        hold::Members covered;
        for (const auto s : cover.sets) {
            costs.push_back(sets[s].cost);
            covered = covered.either(sets[s].members);
        }
        EXPECT_EQ(covered, hold::Members::first(n));
        EXPECT_EQ(costs, best_of_all(n, sets)) << "trial " << trial;
        largest = std::max(largest, costs.size());
    }
    EXPECT_GE(largest, 3u);
}

// Rows of three overlapping pairs each need two sets: parts are solved apart, and their numbers add up.
TEST(HoldCover, IndependentPartsAddUp) {
    std::vector<hold::Members> sets;
    constexpr std::size_t parts = 32;
    for (std::size_t p = 0; p < parts; ++p)
        for (std::size_t k = 0; k < 3; ++k) {
            hold::Members pair;
            pair.add(4 * p + k);
            pair.add(4 * p + k + 1);
            sets.push_back(pair);
        }
    const auto fewest = hold::fewest_sets(4 * parts, sets);
    EXPECT_TRUE(fewest.proven);
    EXPECT_EQ(fewest.sets.size(), 2 * parts);
}

}  // namespace
}  // namespace seatwright
