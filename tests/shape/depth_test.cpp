// The depth plan against an exhaustive grid and against GLPK.
#include <gtest/gtest.h>

#include <random>
#include <regex>

#include "depth_problems.hpp"
#include "other_solver.hpp"
#include "seatwright/shape/depth_lp.hpp"
#include "seatwright/shape/depth_plan.hpp"
#include "seatwright/shape/depth_steps.hpp"
#include "spoken.hpp"

namespace seatwright::shape {
namespace {

using problems::random_problem;

// Every limit kept, within the rounding noise the header promises.
void expect_kept(const DepthProblem& p, const std::vector<double>& depth, double slack) {
    for (std::size_t i = 0; i < depth.size(); ++i) {
        EXPECT_GE(depth[i], p.seats[i].low - slack) << i;
        EXPECT_LE(depth[i], p.seats[i].high + slack) << i;
    }
    const auto stems = stem_spread_after(p, depth);
    for (const auto kind : job::both_kinds)
        EXPECT_LE(stems[kind].value_or(0), p.stem_spread.value_or(no_limit) + slack);
    if (p.holds_chambers()) {
        const double area = std::max(p.area.intake, p.area.exhaust);
        EXPECT_LE(*chamber_spread_after(p, depth), *p.chamber_spread + slack * area);
    }
}

// All depths in whole steps, one after the other.
std::optional<double> by_grid(const DepthProblem& p) {
    const std::size_t n = p.seats.size();
    std::vector<long> low(n), high(n), k(n);
    for (std::size_t i = 0; i < n; ++i) {
        low[i] = std::lround(std::ceil(p.seats[i].low / p.step - 1e-6));
        high[i] = std::lround(std::floor(p.seats[i].high / p.step + 1e-6));
        if (low[i] > high[i]) return std::nullopt;
    }
    k = low;
    std::optional<double> best;
    std::vector<double> depth(n);
    while (true) {
        double total = 0;
        for (std::size_t i = 0; i < n; ++i) total += depth[i] = p.step * double(k[i]);
        if (!best || total < *best - 1e-9) {
            const auto stems = stem_spread_after(p, depth);
            const auto chambers = chamber_spread_after(p, depth);
            const bool ok = stems.intake.value_or(0) <= *p.stem_spread + 1e-6 * p.step &&
                            stems.exhaust.value_or(0) <= *p.stem_spread + 1e-6 * p.step &&
                            *chambers <= *p.chamber_spread + 1e-6 * p.step * p.area.intake;
            if (ok) best = total;
        }
        std::size_t i = 0;
        while (i < n && ++k[i] > high[i]) k[i] = low[i], ++i;
        if (i == n) return best;
    }
}

TEST(DepthSteps, AgreeWithEveryPointOfTheGrid) {
    std::mt19937_64 random(11);
    int feasible = 0, infeasible = 0;
    for (int trial = 0; trial < 400; ++trial) {
        problems::Shape of;
        of.cylinders = 2 + trial % 2;
        of.step = 0.1;
        of.wear = 0.5;
        of.limit_from = 0.4;
        of.limit_to = 0.9;
        of.stem_spread = 0.05 + 0.05 * (trial % 7);
        of.chamber_spread = 40 + 60 * (trial % 5);
        of.scatter = 0.2;
        const DepthProblem p = random_problem(of, random);
        const auto truth = by_grid(p);
        const auto plan = solve_depths_in_steps(p);
        ASSERT_EQ(plan.has_value(), truth.has_value()) << "trial " << trial;
        if (!plan) {
            EXPECT_EQ(plan.error(), NoSteps::none_exists);
            ++infeasible;
            continue;
        }
        ++feasible;
        EXPECT_TRUE(plan->proven);
        EXPECT_NEAR(plan->total, *truth, 1e-9) << "trial " << trial;
        expect_kept(p, plan->depth, 2e-6 * p.step);
    }
    EXPECT_GT(feasible, 80);
    EXPECT_GT(infeasible, 80);
}

TEST(DepthSteps, AgreeWithGlpkOnWholeHeads) {
    std::mt19937_64 random(12);
    int feasible = 0, most_nodes = 0;
    for (int trial = 0; trial < 240; ++trial) {
        problems::Shape of;
        of.cylinders = 3 + trial % 6;
        of.intakes = 1 + trial % 2;
        of.exhausts = 1 + (trial / 2) % 2;
        of.step = trial % 3 == 0 ? 0.05 : 0.01;
        of.stem_spread = 0.15 + 0.05 * (trial % 5);
        of.chamber_spread = 150 + 100 * (trial % 4);
        const DepthProblem p = random_problem(of, random);
        const auto truth = other::least_total(p, other::Numbers::whole_steps);
        const auto plan = solve_depths_in_steps(p);
        ASSERT_EQ(plan.has_value(), truth.has_value()) << "trial " << trial;
        if (!plan) continue;
        ++feasible;
        EXPECT_TRUE(plan->proven) << "trial " << trial;
        EXPECT_NEAR(plan->total, *truth, 1e-6) << "trial " << trial;
        expect_kept(p, plan->depth, 2e-6 * p.step);
        most_nodes = std::max(most_nodes, plan->nodes);
    }
    EXPECT_GT(feasible, 150);
    EXPECT_LT(most_nodes, 1000);
    RecordProperty("most_nodes", most_nodes);
}

TEST(DepthProgram, AgreesWithGlpk) {
    std::mt19937_64 random(13);
    int feasible = 0, infeasible = 0;
    for (int trial = 0; trial < 300; ++trial) {
        problems::Shape of;
        of.cylinders = 1 + trial % 8;
        of.intakes = 1 + trial % 2;
        of.stem_spread = 0.05 + 0.05 * (trial % 6);
        of.chamber_spread = 100 + 150 * (trial % 5);
        const DepthProblem p = random_problem(of, random);
        const auto truth = other::least_total(p, other::Numbers::real);
        const auto plan = solve_depths(p);
        ASSERT_TRUE(plan.has_value());
        ASSERT_EQ(plan->has_value(), truth.has_value()) << "trial " << trial;
        if (!truth) {
            ++infeasible;
            continue;
        }
        ++feasible;
        EXPECT_NEAR((*plan)->total, *truth, 1e-7) << "trial " << trial;
        expect_kept(p, (*plan)->depth, 1e-8);
    }
    EXPECT_GT(feasible, 60);
    EXPECT_GT(infeasible, 30);
}

// What quarrels is infeasible by itself, and feasible without any one of its limits: judged by GLPK.
TEST(DepthProgram, QuarrelIsIrreducible) {
    std::mt19937_64 random(14);
    int checked = 0;
    for (int trial = 0; trial < 200 && checked < 40; ++trial) {
        problems::Shape of;
        of.stem_spread = 0.1 + 0.1 * (trial % 4);
        of.chamber_spread = 100;
        of.chamber_scatter = 900;
        const DepthProblem p = random_problem(of, random);
        const auto quarrel = quarrel_of(p);
        ASSERT_TRUE(quarrel.has_value());
        if (quarrel->empty()) continue;
        ++checked;
        other::Relaxed rest;
        for (std::size_t i = 0; i < p.seats.size(); ++i) {
            if (!other::in(quarrel->cleanup, i)) rest.no_low.push_back(i);
            if (!other::in(quarrel->most_depth, i)) rest.no_high.push_back(i);
            if (!other::in(quarrel->stem, i)) rest.no_stem.push_back(i);
        }
        for (std::size_t c = 0; c < p.chamber.size(); ++c)
            if (!other::in(quarrel->chamber, c)) rest.no_chamber.push_back(c);
        EXPECT_FALSE(other::least_total(p, other::Numbers::real, rest)) << "trial " << trial;
        const auto without = [&](std::vector<std::size_t> other::Relaxed::*list, std::size_t i) {
            other::Relaxed less = rest;
            (less.*list).push_back(i);
            EXPECT_TRUE(other::least_total(p, other::Numbers::real, less)) << "trial " << trial;
        };
        for (const auto i : quarrel->cleanup) without(&other::Relaxed::no_low, i);
        for (const auto i : quarrel->most_depth) without(&other::Relaxed::no_high, i);
        for (const auto i : quarrel->stem) without(&other::Relaxed::no_stem, i);
        for (const auto c : quarrel->chamber) without(&other::Relaxed::no_chamber, c);
    }
    EXPECT_GE(checked, 40);
}

// The least chamber spread is the border: feasible a hair above, infeasible a hair below.
TEST(DepthProgram, LeastChamberSpreadIsTheBorder) {
    std::mt19937_64 random(15);
    int checked = 0;
    for (int trial = 0; trial < 100 && checked < 30; ++trial) {
        problems::Shape of;
        of.stem_spread = 0.5;
        of.chamber_spread = 20;
        of.chamber_scatter = 900;
        DepthProblem p = random_problem(of, random);
        const auto least = least_chamber_spread(p);
        ASSERT_TRUE(least.has_value());
        if (!*least || **least <= 20.0) continue;
        ++checked;
        p.chamber_spread = **least * (1 + 1e-6);
        EXPECT_TRUE(other::least_total(p, other::Numbers::real)) << "trial " << trial;
        p.chamber_spread = **least * (1 - 1e-6);
        EXPECT_FALSE(other::least_total(p, other::Numbers::real)) << "trial " << trial;
    }
    EXPECT_GE(checked, 30);
}

// Stem quarrels are settled pair by pair: what is left is feasible, and the gap named is the least
// relaxation.
TEST(DepthPlan, StemQuarrelsNameTheLeastRelaxation) {
    std::mt19937_64 random(16);
    int checked = 0;
    for (int trial = 0; trial < 200; ++trial) {
        problems::Shape of;
        of.stem_spread = 0.05;
        of.scatter = 0.5;
        of.limit_from = 0.4;
        DepthProblem p = random_problem(of, random);
        p.chamber_spread.reset();
        const auto outcome = plan_depths(p, LengthUnit::mm);
        const auto truth = other::least_total(p, other::Numbers::real);
        const bool quarrel = !outcome.plan.conflicts.empty() && !outcome.plan.conflicts[0].members.empty();
        EXPECT_EQ(!quarrel, truth.has_value()) << "trial " << trial;
        if (!quarrel) continue;
        ++checked;
        // The first quarrel of each kind holds that kind's worst pair: the spread plus its gap would do.
        double most = 0;
        for (const auto& c : outcome.plan.conflicts) most = std::max(most, c.relaxation);
        DepthProblem wider = p;
        wider.stem_spread = *p.stem_spread + most + 1e-9;
        EXPECT_TRUE(other::least_total(wider, other::Numbers::real)) << "trial " << trial;
        wider.stem_spread = *p.stem_spread + most - 1e-6;
        EXPECT_FALSE(other::least_total(wider, other::Numbers::real)) << "trial " << trial;
        EXPECT_TRUE(outcome.plan.total.has_value());
    }
    EXPECT_GT(checked, 50);
}

TEST(DepthPlan, ChamberQuarrelIsPlannedAtTheLeastSpread) {
    std::mt19937_64 random(17);
    int checked = 0;
    for (int trial = 0; trial < 60; ++trial) {
        problems::Shape of;
        of.stem_spread = 2;
        of.chamber_spread = 20;
        of.chamber_scatter = 1500;
        const DepthProblem p = random_problem(of, random);
        const auto outcome = plan_depths(p, LengthUnit::mm);
        if (outcome.plan.feasible) continue;
        ++checked;
        for (const auto& w : outcome.warnings) EXPECT_NE(w.code, "depth-solver") << spoken(w.text);
        ASSERT_EQ(outcome.plan.conflicts.size(), 1u);
        const double least = *p.chamber_spread + outcome.plan.conflicts[0].relaxation;
        ASSERT_TRUE(outcome.plan.chamber_spread.has_value());
        EXPECT_GE(*outcome.plan.chamber_spread, least - 1e-6);
        EXPECT_LE(*outcome.plan.chamber_spread, least + 2 * p.step * (p.area.intake + p.area.exhaust) + 1e-3);
        for (const auto& d : outcome.depth) EXPECT_TRUE(d.has_value());
    }
    EXPECT_GT(checked, 20);
}

// The figure in front of "would do" in the first sentence that has one.
std::optional<double> amount_that_would_do(const DepthOutcome& outcome, const char* unit) {
    const std::regex form("([0-9.]+) " + std::string(unit) + " would do");
    for (const auto& text : in_words(outcome.plan.conflict, {}))
        if (std::smatch found; std::regex_search(text, found, form)) return std::stod(found[1]);
    return std::nullopt;
}

// What a sentence says would do does, whole steps and its own rounding included; a digit less does not.
TEST(DepthPlan, TheAmountThatWouldDoDoes) {
    std::mt19937_64 random(19);
    int stems = 0, chambers = 0;
    for (int trial = 0; trial < 200; ++trial) {
        problems::Shape of;
        of.stem_spread = 0.05;
        of.scatter = 0.5;
        of.limit_from = 0.4;
        of.chamber_spread = 20;
        of.chamber_scatter = 1500;
        DepthProblem p = random_problem(of, random);
        if (trial % 2 == 0)
            p.chamber_spread.reset();
        else
            p.stem_spread.reset();
        for (auto& seat : p.seats)
            seat.low = std::min(seat.low, seat.high);  // no quarrel of a seat with itself
        if (trial % 2 == 0)
            for (auto& seat : p.seats) seat.kind = job::Kind::intake;
        const auto fits = [&](double stem_mm, double chamber_mm3) {
            DepthProblem wider = p;
            if (wider.stem_spread) wider.stem_spread = stem_mm;
            if (wider.chamber_spread) wider.chamber_spread = chamber_mm3;
            return solve_depths_in_steps(wider).has_value();
        };
        // Not even without a spread: nothing would do but a finer step.
        if (!fits(1e9, 1e9)) continue;
        const auto outcome = plan_depths(p, LengthUnit::mm);
        if (outcome.plan.conflicts.empty() || outcome.plan.conflicts[0].members.empty()) continue;
        if (p.stem_spread) {
            const auto spread = amount_that_would_do(outcome, "mm");
            ASSERT_TRUE(spread) << spoken(outcome.plan.conflict[0]);
            EXPECT_TRUE(fits(*spread, 0)) << spoken(outcome.plan.conflict[0]);
            EXPECT_FALSE(fits(*spread - 0.001, 0)) << spoken(outcome.plan.conflict[0]);
            ++stems;
        } else {
            const auto spread = amount_that_would_do(outcome, "cm3");
            ASSERT_TRUE(spread) << spoken(outcome.plan.conflict[0]);
            EXPECT_TRUE(fits(0, 1000 * *spread)) << spoken(outcome.plan.conflict[0]);
            EXPECT_FALSE(fits(0, 1000 * *spread - 10)) << spoken(outcome.plan.conflict[0]);
            EXPECT_LE(*outcome.plan.chamber_spread, 1000 * *spread + 1e-6)
                << spoken(outcome.plan.conflict[0]);
            ++chambers;
        }
    }
    EXPECT_GT(stems, 30);
    EXPECT_GT(chambers, 20);
}

TEST(DepthPlan, NoWholeStepsIsSaidAndTheDepthsStillKeepTheLimits) {
    DepthProblem p;
    p.step = 0.05;
    DepthSeat s;
    s.name = "1I";
    s.limited_by = "recession";
    s.low = 0.11;
    s.high = 0.14;
    p.seats = {s};
    const auto outcome = plan_depths(p, LengthUnit::mm);
    EXPECT_FALSE(outcome.plan.feasible);
    ASSERT_TRUE(outcome.depth[0].has_value());
    EXPECT_NEAR(*outcome.depth[0], 0.11, 1e-9);
    EXPECT_NE(spoken(outcome.plan.conflict.at(0)).find("finer step"), std::string::npos);
}

TEST(DepthPlan, SameProblemSameBits) {
    std::mt19937_64 random(18);
    for (int trial = 0; trial < 20; ++trial) {
        const DepthProblem p = random_problem({}, random);
        const auto a = plan_depths(p, LengthUnit::mm), b = plan_depths(p, LengthUnit::mm);
        EXPECT_EQ(a.depth, b.depth);
        EXPECT_EQ(a.plan.total_unrounded, b.plan.total_unrounded);
    }
}

}  // namespace
}  // namespace seatwright::shape
