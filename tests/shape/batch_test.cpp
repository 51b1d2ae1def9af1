// Heads planned together, against every point of a grid: the reading of the job and the search share no code
// with it. Invented data.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "job_fixtures.hpp"
#include "seatwright/shape/depth_plan.hpp"
#include "spoken.hpp"

namespace seatwright::shape {
namespace {

struct Wear {
    double stem, cleanup, recession;
};

// Two heads of one cylinder: four seats, steps of a tenth.
struct Small {
    job::Job job = fixtures::wedge_job(1);
    std::vector<Wear> wear;  // head 1's E and I, head 2's E and I
};

Small small_job(std::mt19937_64& random) {
    Small out;
    const auto pick = [&](double from, int steps) {
        return from + 0.1 * std::uniform_int_distribution<int>(0, steps)(random);
    };
    out.job.depth.plan = job::DepthPlanning::together;
    out.job.depth.step = 0.1;
    out.job.depth.cleanup_margin = 0;
    out.job.depth.stem_spread = pick(0.1, 3);
    for (const auto kind : job::both_kinds) {
        out.job.seat[kind]->stem_height_max = 48.2;
        out.job.seat[kind]->recession_max = 0.8;
    }
    for (const std::string head : {"1", "2"})
        for (const auto& v : out.job.head.valves) {
            out.wear.push_back({pick(47.3, 4), pick(0, 5), pick(0, 4)});
            job::SeatBefore r;
            r.head = head;
            r.valve = v.id;
            r.stem_height = out.wear.back().stem;
            r.cleanup = out.wear.back().cleanup;
            r.recession = out.wear.back().recession;
            out.job.readings.seats.push_back(r);
        }
    return out;
}

// Least total over both heads of every combination in whole steps; none when nothing is allowed.
std::optional<double> by_grid(const Small& small) {
    std::optional<double> best;
    const double spread = *small.job.depth.stem_spread;
    for (int code = 0; code < 10'000; ++code) {
        double total = 0, stem[4];
        bool ok = true;
        for (int i = 0, rest = code; i < 4; ++i, rest /= 10) {
            const Wear& w = small.wear[static_cast<std::size_t>(i)];
            const double depth = 0.1 * (rest % 10);
            stem[i] = w.stem + depth;
            ok = ok && depth >= w.cleanup - 1e-7 && stem[i] <= 48.2 + 1e-7 &&
                 w.recession + depth <= 0.8 + 1e-7;
            total += depth;
        }
        ok = ok && std::abs(stem[0] - stem[2]) <= spread + 1e-7 &&
             std::abs(stem[1] - stem[3]) <= spread + 1e-7;
        if (ok && (!best || total < *best)) best = total;
    }
    return best;
}

TEST(BatchPlan, TheLeastOfEveryPointOfTheGrid) {
    std::mt19937_64 random(5);
    int feasible = 0;
    for (int trial = 0; trial < 150; ++trial) {
        const Small small = small_job(random);
        const auto truth = by_grid(small);
        const Shape first = design(small.job, {}, {}, "1"), second = design(small.job, {}, {}, "2");
        ASSERT_EQ(first.depth.feasible, truth.has_value()) << "trial " << trial;
        ASSERT_TRUE(first.depth.batch);
        EXPECT_EQ(first.depth.batch->heads, (std::vector<std::string>{"1", "2"}));
        if (!truth) continue;
        ++feasible;
        ASSERT_TRUE(first.depth.batch->total);
        EXPECT_NEAR(*first.depth.batch->total, *truth, 1e-9) << "trial " << trial;
        EXPECT_NEAR(*first.depth.total + *second.depth.total, *truth, 1e-9);
        // Either head's answer comes from one plan, and the common height is its highest stem.
        for (std::size_t v = 0; v < 2; ++v) {
            const auto kind = small.job.head.valves[v].kind;
            const double a = *first.seats[v].stem_height_after, b = *second.seats[v].stem_height_after;
            EXPECT_NEAR(*first.depth.batch->common_stem[kind], std::max(a, b), 1e-9);
            EXPECT_NEAR(*first.depth.batch->stem_spread[kind], std::abs(a - b), 1e-9);
            EXPECT_LE(std::abs(a - b), *small.job.depth.stem_spread + 1e-7);
            EXPECT_GE(*first.seats[v].depth, small.wear[v].cleanup - 1e-7);
        }
    }
    EXPECT_GT(feasible, 50);
    EXPECT_LT(feasible, 150);
}

TEST(BatchPlan, AnotherHeadsInsertIsNotThisHeads) {
    std::mt19937_64 random(3);
    Small small = small_job(random);
    auto& readings = small.job.readings.seats;
    for (auto& r : readings) r.stem_height = 47.5, r.cleanup = 0.1, r.recession = 0;
    readings[3].cleanup = 2;  // head 2's intake, beyond its limit
    const Shape first = design(small.job, {}, {}, "1"), second = design(small.job, {}, {}, "2");
    EXPECT_EQ(first.seats[1].decision, Decision::cut);
    EXPECT_EQ(second.seats[1].decision, Decision::insert);
    EXPECT_FALSE(first.depth.feasible);
    for (const auto& [shape, valve] : {std::pair{&first, std::optional<std::string>{}}, {&second, "1I"}}) {
        const auto at = std::find_if(shape->warnings.begin(), shape->warnings.end(),
                                     [](const Warning& w) { return w.code == "depth-limit"; });
        ASSERT_NE(at, shape->warnings.end());
        EXPECT_EQ(at->valve, valve);
        EXPECT_NE(spoken(at->text).find("1I of head 2"), std::string::npos);
    }
}

TEST(BatchPlan, AloneUnlessAskedAndNeverWithoutABorder) {
    auto job = fixtures::wedge_job(1);
    EXPECT_FALSE(design(job, {}, {}, "1").depth.batch);
    job.depth.plan = job::DepthPlanning::together;
    EXPECT_EQ(design(job, {}, {}, "7").depth.batch->heads, std::vector<std::string>{"7"});
    for (std::size_t h = 0; h <= most_batch_seats / 2; ++h) {
        job::SeatBefore r;
        r.head = std::to_string(h);
        r.valve = "1I";
        job.readings.seats.push_back(r);
    }
    const Shape shape = design(job, {}, {}, "3");
    EXPECT_FALSE(shape.depth.batch);
    EXPECT_TRUE(shape.depth.total);
    EXPECT_TRUE(std::any_of(shape.warnings.begin(), shape.warnings.end(),
                            [](const Warning& w) { return w.code == "batch-too-large"; }));
    job.readings.seats.resize(most_batch_seats / 2);  // as many as are allowed
    EXPECT_EQ(design(job, {}, {}, "3").depth.batch->heads.size(), most_batch_seats / 2);
}

}  // namespace
}  // namespace seatwright::shape
