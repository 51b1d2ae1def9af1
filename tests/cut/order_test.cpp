// Paths and orders against trying every one.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <random>
#include <set>

#include "seatwright/cut/order.hpp"
#include "seatwright/cut/path.hpp"

namespace seatwright::cut {
namespace {

double length_of(const std::vector<Vec2>& points, const std::vector<std::size_t>& order) {
    double length = 0;
    for (std::size_t i = 1; i < order.size(); ++i) length += (points[order[i]] - points[order[i - 1]]).norm();
    return length;
}

double brute_path(const std::vector<Vec2>& points) {
    std::vector<std::size_t> order(points.size());
    std::iota(order.begin(), order.end(), 0);
    double best = std::numeric_limits<double>::infinity();
    do {
        best = std::min(best, length_of(points, order));
    } while (std::next_permutation(order.begin(), order.end()));
    return best;
}

std::vector<Vec2> scattered(std::mt19937& random, std::size_t n, double height) {
    std::uniform_real_distribution<double> unit(0, 1);
    std::vector<Vec2> points;
    for (std::size_t i = 0; i < n; ++i) points.emplace_back(400 * unit(random), height * unit(random));
    return points;
}

TEST(Path, ShortestOpenPathAgreesWithEveryOrder) {
    std::mt19937 random(3);
    for (int i = 0; i < 60; ++i) {
        const double heights[] = {0, 5, 60, 400};
        const auto points = scattered(random, 1 + static_cast<std::size_t>(i) % 8, heights[i % 4]);
        const OpenPath path = shortest_path(points);
        const double best = brute_path(points);
        EXPECT_NEAR(path.length, best, 1e-9);
        EXPECT_NEAR(path.lower_bound, best, 1e-9);
        EXPECT_NEAR(length_of(points, path.order), path.length, 1e-9);
        EXPECT_EQ(std::set<std::size_t>(path.order.begin(), path.order.end()).size(), points.size());
    }
}

TEST(Path, EveryPairOfEndsAgreesWithEveryOrder) {
    std::mt19937 random(4);
    for (int i = 0; i < 24; ++i) {
        const auto points = scattered(random, 2 + static_cast<std::size_t>(i) % 6, i % 2 == 0 ? 0 : 150);
        const EndPaths paths(points);
        std::map<std::pair<std::size_t, std::size_t>, double> best;
        std::vector<std::size_t> order(points.size());
        std::iota(order.begin(), order.end(), 0);
        do {
            const auto ends = std::make_pair(order.front(), order.back());
            const double length = length_of(points, order);
            if (!best.count(ends) || length < best[ends]) best[ends] = length;
        } while (std::next_permutation(order.begin(), order.end()));
        for (const auto& [ends, length] : best) {
            EXPECT_NEAR(paths.length(ends.first, ends.second), length, 1e-9);
            const auto way = paths.order(ends.first, ends.second);
            EXPECT_EQ(way.front(), ends.first);
            EXPECT_EQ(way.back(), ends.second);
            EXPECT_NEAR(length_of(points, way), length, 1e-9);
        }
    }
}

TEST(Path, BeyondTwelveTheGapIsBounded) {
    std::mt19937 random(5);
    for (int i = 0; i < 8; ++i) {
        const auto points = scattered(random, 24, 300);
        const OpenPath path = shortest_path(points);
        EXPECT_EQ(path.order.size(), points.size());
        EXPECT_NEAR(length_of(points, path.order), path.length, 1e-9);
        EXPECT_LE(path.lower_bound, path.length);
        EXPECT_GE(path.lower_bound, 0.5 * path.length);  // twice round the tree is a path
    }
    // Two rows of a long head are shortest as a comb or a hairpin; here the hairpin.
    std::vector<Vec2> rows;
    for (int k = 0; k < 16; ++k) rows.emplace_back(30.0 * k, 0), rows.emplace_back(30.0 * k, 200);
    EXPECT_NEAR(shortest_path(rows).length, 2 * 450 + 200, 1e-9);
}

// Every order of groups with each setup in one go, every order of seats in each group.
struct Best {
    int changes = 1000;
    double length = std::numeric_limits<double>::infinity();
};
void try_seats(const std::vector<Group>& groups, const std::vector<std::size_t>& order, std::size_t at,
               double so_far, const Vec2* last, std::size_t last_setup, double& best) {
    if (so_far >= best) return;
    if (at == order.size()) {
        best = so_far;
        return;
    }
    const Group& group = groups[order[at]];
    std::vector<std::size_t> seats(group.seats.size());
    std::iota(seats.begin(), seats.end(), 0);
    do {
        double length = so_far + length_of(group.seats, seats);
        if (last != nullptr && last_setup == group.setup)
            length += (group.seats[seats.front()] - *last).norm();
        try_seats(groups, order, at + 1, length, &group.seats[seats.back()], group.setup, best);
    } while (std::next_permutation(seats.begin(), seats.end()));
}
Best brute_order(const std::vector<Group>& groups) {
    std::vector<std::size_t> order(groups.size());
    std::iota(order.begin(), order.end(), 0);
    Best best;
    do {
        std::set<std::size_t> left;
        bool in_one_go = true;
        int changes = 0;
        for (std::size_t i = 1; i < order.size(); ++i) {
            const Group &a = groups[order[i - 1]], &b = groups[order[i]];
            if (a.setup != b.setup) {
                left.insert(a.setup);
                in_one_go = in_one_go && left.count(b.setup) == 0;
            }
            changes += a.tool != b.tool ? 1 : 0;
        }
        if (!in_one_go || changes > best.changes) continue;
        double length = changes < best.changes ? std::numeric_limits<double>::infinity() : best.length;
        try_seats(groups, order, 0, 0, nullptr, 0, length);
        best = {changes, length};
    } while (std::next_permutation(order.begin(), order.end()));
    return best;
}

TEST(Order, FewestChangesThenShortestAgreesWithEveryOrder) {
    std::mt19937 random(6);
    std::uniform_int_distribution<int> coin(0, 1);
    int cases = 0;
    for (int i = 0; i < 60; ++i) {
        std::vector<Group> groups;
        const std::size_t setups = 1 + static_cast<std::size_t>(i) % 3;
        for (std::size_t s = 0; s < setups; ++s)
            for (std::size_t t = 0; t < 3; ++t) {
                if (groups.size() >= 5 || (t > 0 && coin(random) == 0)) continue;
                groups.push_back({s, (t + s * static_cast<std::size_t>(coin(random))) % 3,
                                  scattered(random, 1 + static_cast<std::size_t>(i + static_cast<int>(t)) % 3,
                                            coin(random) == 0 ? 0 : 120)});
                for (std::size_t g = 0; g + 1 < groups.size(); ++g)
                    if (groups[g].setup == s && groups[g].tool == groups.back().tool) {
                        groups.pop_back();
                        break;
                    }
            }
        const Order order = best_order(groups);
        const Best best = brute_order(groups);
        EXPECT_EQ(order.changes, best.changes) << i;
        EXPECT_NEAR(order.length, best.length, 1e-9) << i;
        EXPECT_EQ(order.changes_bound, order.changes);
        EXPECT_NEAR(order.length_bound, order.length, 1e-9);
        std::size_t seats = 0;
        for (const Group& group : groups) seats += group.seats.size();
        EXPECT_EQ(order.visits.size(), seats);
        ++cases;
    }
    EXPECT_EQ(cases, 60);
}

TEST(Order, ManyGroupsStayWithinTheirBound) {
    std::mt19937 random(8);
    std::vector<Group> groups;
    for (std::size_t s = 0; s < 14; ++s)
        for (std::size_t t = 0; t < 2; ++t) groups.push_back({s, t, scattered(random, 4, 50)});
    const Order order = best_order(groups);
    EXPECT_EQ(order.visits.size(), 14u * 2 * 4);
    EXPECT_EQ(order.changes, 14);  // the cutter stays in from one setup to the next
    EXPECT_EQ(order.changes_bound, 14);
    EXPECT_LE(order.length_bound, order.length + 1e-9);
    std::vector<Group> wide;
    for (std::size_t t = 0; t < 15; ++t) wide.push_back({0, t, scattered(random, 3, 50)});
    const Order one = best_order(wide);
    EXPECT_EQ(one.visits.size(), 45u);
    EXPECT_EQ(one.changes, 14);
    EXPECT_LE(one.length_bound, one.length);
    EXPECT_GE(one.length_bound, 0.3 * one.length);
}

TEST(Order, NothingToCutIsNothing) {
    EXPECT_TRUE(best_order({}).visits.empty());
}

}  // namespace
}  // namespace seatwright::cut
