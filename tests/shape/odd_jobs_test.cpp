// The stage is total: odd figures bring warnings and finite numbers, never a crash or a broken limit.
#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "job_fixtures.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {
namespace {

void expect_finite(std::optional<double> v, const char* what, int trial) {
    EXPECT_TRUE(std::isfinite(v.value_or(0))) << what << " in trial " << trial;
}

job::Job odd_job(std::mt19937_64& random) {
    const auto uniform = [&](double a, double b) {
        return std::uniform_real_distribution<double>(a, b)(random);
    };
    const auto chance = [&](double p) { return uniform(0, 1) < p; };
    job::Job job = chance(0.5) ? fixtures::wedge_job(1 + int(uniform(0, 5))) : fixtures::pent_roof_job(2);
    job.depth.step = chance(0.1) ? 0 : (chance(0.1) ? 1e-9 : std::pow(10, uniform(-4, 0.5)));
    job.depth.stem_spread = chance(0.3) ? std::nullopt : std::optional(chance(0.2) ? 0 : uniform(0, 1));
    job.depth.chamber_spread = chance(0.5) ? std::nullopt : std::optional(chance(0.2) ? 0 : uniform(0, 900));
    job.depth.deck_cut = chance(0.3) ? uniform(0, 2) : 0;
    job.depth.from = static_cast<job::DepthFrom>(int(uniform(0, 3)));
    job.depth.bridge_min = uniform(0, 5);
    job.head.bore_diameter = chance(0.5) ? std::optional(uniform(10, 120)) : std::nullopt;
    if (chance(0.5)) job.head.obstacles.push_back({"plug", Vec3(uniform(-50, 50), uniform(-50, 50), -3), 14});
    if (chance(0.2)) job.cutters.clear();
    for (const auto kind : job::both_kinds) {
        job::SeatForm& s = *job.seat[kind];
        s.angle = rad(uniform(0.1, 79));
        s.width = chance(0.1) ? 1e-6 : uniform(0.1, 30);
        if (chance(0.3)) s.top.clear();
        if (chance(0.3)) s.throat = {{rad(79.9), uniform(0, 60)}};
        if (chance(0.5))
            s.insert = job::Insert{uniform(1, 60), uniform(0, 59), uniform(0.1, 9), {}, "grey iron"};
        if (chance(0.1)) job.valve[kind].reset();
        if (chance(0.1)) job.seat[kind].reset();
    }
    for (const auto& v : job.head.valves) {
        if (chance(0.2)) continue;
        job::SeatBefore r;
        r.valve = v.id;
        if (chance(0.8)) r.stem_height = uniform(46, 49);
        if (chance(0.8)) r.recession = uniform(-0.5, 1.5);
        if (chance(0.6)) r.cleanup = chance(0.1) ? uniform(0, 100) : uniform(0, 1);
        if (chance(0.6)) r.chamber = uniform(1, 90'000);
        const int points = int(uniform(0, 6));
        for (int i = 0; i < points; ++i) r.section.emplace_back(uniform(5, 30), uniform(-3, 3));
        job.readings.seats.push_back(r);
    }
    return job;
}

TEST(OddJobs, FiniteNumbersAndKeptLimits) {
    std::mt19937_64 random(41);
    int planned = 0, inserts = 0;
    for (int trial = 0; trial < 1500; ++trial) {
        const job::Job job = odd_job(random);
        const Shape shape = design(job, {}, {}, "1");
        ASSERT_EQ(shape.seats.size(), job.head.valves.size());
        for (const auto& s : shape.seats) {
            for (const auto& p : s.section.points) EXPECT_TRUE(p.allFinite());
            for (const auto v : {s.cleanup, s.depth, s.z, s.program_z, s.stem_height_after, s.removed,
                                 s.bridge, s.cutter_clearance, s.insert_wall, s.tip_grind})
                expect_finite(v, "a seat's figure", trial);
            if (s.decision == Decision::insert) {
                ++inserts;
                EXPECT_FALSE(s.depth);
            }
            if (!s.depth) continue;
            ++planned;
            EXPECT_GE(*s.depth, *s.depth_low - 1e-6) << trial;
            EXPECT_LE(*s.depth, s.depth_high.value_or(1e9) + 1e-6) << trial;
        }
        if (shape.depth.feasible) {
            for (const auto kind : job::both_kinds)
                EXPECT_LE(shape.depth.stem_spread[kind].value_or(0),
                          job.depth.stem_spread.value_or(1e9) + 1e-6)
                    << trial;
            EXPECT_LE(shape.depth.chamber_spread.value_or(0), job.depth.chamber_spread.value_or(1e9) + 1e-2)
                << trial;
        }
        EXPECT_EQ(shape.depth.feasible, shape.depth.conflict.empty());
        for (const auto& fit : shape.inserts)
            EXPECT_TRUE(std::isfinite(fit.pressure + fit.insert_temperature));
    }
    EXPECT_GT(planned, 2000);
    EXPECT_GT(inserts, 200);
}

}  // namespace
}  // namespace seatwright::shape
