// Next touch and touches to target against a brute force that really adds the touches and refits.
#include "seatwright/find/next_touch.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "find_fixtures.hpp"
#include "seatwright/base/numerics/disc_probability.hpp"
#include "seatwright/find/guides.hpp"
#include "simulation.hpp"

namespace seatwright::find {
namespace {

// Least centred probability with these guides touched, by fitting readings that lie on the pattern.
double least_with(const std::vector<Expected>& guides, const std::vector<std::size_t>& touched,
                  double touch_sd, const Prior& prior, double positioning, double clearance) {
    std::vector<Reading> readings;
    for (const std::size_t g : touched) readings.push_back({g, guides[g].map, touch_sd, std::nullopt});
    const auto pose = fit_pose(guides, readings, prior);
    const auto read = combine(guides.size(), readings);
    double least = 1;
    for (std::size_t g = 0; g < guides.size(); ++g) {
        const Place place = place_guide(guides[g], read[g], *pose);
        least = std::min(least, enter_probability(place, place.at, positioning, clearance));
    }
    return least;
}

TEST(NextTouch, IsTheBestOfAllByRefitting) {
    int settled = 0;
    for (std::uint64_t trial = 0; trial < 60; ++trial) {
        simulation::Draw draw(trial, 41);
        const auto guides =
            simulation::rows(3 + trial % 4, 90 + 5 * draw.uniform(), 40, 25 * draw.uniform(), 0.1);
        Prior prior{0, std::nullopt, Vec2::Zero(), std::nullopt};
        if (trial % 2 == 0) prior.yaw_sd = 0.001;
        std::vector<std::size_t> touched{draw.below(guides.size())};
        if (trial % 2 == 1)
            touched.push_back((touched[0] + 1 + draw.below(guides.size() - 1)) % guides.size());
        const double clearance = 0.35 + 0.2 * draw.uniform(), target = 0.97;
        const TouchRules rules{0.02, 0.01, target};

        std::vector<Reading> readings;
        for (const std::size_t g : touched) readings.push_back({g, guides[g].map, 0.02, std::nullopt});
        const auto pose = fit_pose(guides, readings, prior);
        const auto read = combine(guides.size(), readings);
        std::vector<bool> may(guides.size());
        for (std::size_t g = 0; g < guides.size(); ++g) may[g] = read[g].weight <= 0;
        const std::vector<std::optional<double>> clearances(guides.size(), clearance);
        const double now = least_with(guides, touched, 0.02, prior, 0.01, clearance);
        const TouchPlan plan = plan_touches(guides, read, *pose, clearances, now, may, rules);
        ASSERT_TRUE(plan.next);

        // Greedy by brute force; equal candidates (symmetric patterns) may differ in name, not in value.
        auto chosen = touched;
        std::optional<int> steps;
        if (now >= target) steps = 0;
        for (int step = 1; chosen.size() < guides.size() && (!steps || step == 1); ++step) {
            double best = -1;
            std::size_t which = 0;
            for (std::size_t g = 0; g < guides.size(); ++g) {
                if (std::find(chosen.begin(), chosen.end(), g) != chosen.end()) continue;
                auto then = chosen;
                then.push_back(g);
                const double least = least_with(guides, then, 0.02, prior, 0.01, clearance);
                if (least > best + 1e-9) {
                    best = least;
                    which = g;
                }
            }
            if (step == 1) {
                auto then = chosen;
                then.push_back(*plan.next);
                EXPECT_NEAR(least_with(guides, then, 0.02, prior, 0.01, clearance), best, 2e-9) << trial;
                ASSERT_TRUE(plan.least_if_next);
                EXPECT_NEAR(*plan.least_if_next, best, 2e-9) << trial;
                if (*plan.next != which) break;  // an equal one: the greedy paths may part here
            }
            chosen.push_back(which);
            if (!steps && best >= target) steps = step;
            if (steps) break;
        }
        if (chosen.size() > touched.size()) {
            const bool reached = plan.to_target.has_value();
            if (steps) {
                ASSERT_TRUE(reached) << trial;
                EXPECT_LE(std::abs(*plan.to_target - *steps), *plan.to_target == *steps ? 0 : 1) << trial;
            } else {
                EXPECT_FALSE(reached) << trial;
            }
            ++settled;
        }
    }
    EXPECT_GT(settled, 30);
}

TEST(NextTouch, SaysWhenTheTargetCannotBeReached) {
    job::Job job = fixtures::wedge_job();
    job.find.positioning_sd = 0.3;
    const hold::Hold hold = fixtures::hold_of(job, rad(19.5));
    const FoundSetup setup = locate(job, hold).heads[0].setups[0];
    EXPECT_TRUE(setup.next_touch);
    EXPECT_FALSE(setup.touches_to_target);
    job.find.positioning_sd = 0.005;
    const FoundSetup fine = locate(job, hold).heads[0].setups[0];
    ASSERT_TRUE(fine.touches_to_target);
    EXPECT_GT(*fine.touches_to_target, 0);
}

TEST(NextTouch, AllTouchedLeavesNone) {
    std::mt19937_64 random(4);
    const job::Job job = fixtures::wedge_job();
    const hold::Hold hold = fixtures::hold_of(job, rad(19.5));
    const auto made = fixtures::simulate(job, hold, {0, 1, 2, 3, 4, 5, 6, 7}, 0, {0, 0}, random);
    const FoundSetup setup = locate(made.job, hold).heads[0].setups[0];
    EXPECT_FALSE(setup.next_touch);
    EXPECT_EQ(setup.touches_to_target, 0);
}

}  // namespace
}  // namespace seatwright::find
