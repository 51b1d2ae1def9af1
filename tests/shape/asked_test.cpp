// Asked depths: the same consequences as a plan that comes to those depths by itself. Invented data.
#include "seatwright/shape/asked.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "job_fixtures.hpp"
#include "seatwright/shape/section.hpp"

namespace seatwright::shape {
namespace {

job::Job read_job() {
    auto job = fixtures::wedge_job(2);
    job.depth.spring_shims = {0.381, 0.762};
    job.depth.lash_shim_step = 0.05;
    job.depth.swept = 580'000;
    for (const auto& v : job.head.valves) {
        job::SeatBefore r;
        r.valve = v.id;
        r.stem_height = 47.5;
        r.recession = 0.1;
        r.cleanup = 0.08;
        r.chamber = 64'100;
        const auto s = section_of(*job.valve[v.kind], *job.seat[v.kind]);
        for (const auto& p : s.points) r.section.emplace_back(p.x(), p.y() - 0.05);
        job.readings.seats.push_back(r);
    }
    return job;
}

std::vector<std::string> codes(const Shape& shape) {
    std::vector<std::string> out;
    for (const auto& w : shape.warnings)
        if (w.code.starts_with("asked-")) out.push_back(w.code);
    return out;
}

// A planned depth of 0.35 everywhere (cleanup 0.33) against a plan of 0.10 dragged to 0.35.
TEST(AskedDepths, BringWhatAPlanOfThoseDepthsBrings) {
    auto job = read_job();
    const Shape before = design(job, {}, {}, "1");
    std::map<std::string, double> asked;
    for (const auto& v : job.head.valves) asked[v.id] = 0.35;
    const Shape dragged = with_depths(job, {}, {}, "1", asked);
    for (auto& r : job.readings.seats) r.cleanup = 0.33;
    const Shape planned = design(job, {}, {}, "1");
    EXPECT_NEAR(*dragged.depth.total, *planned.depth.total, 1e-12);
    EXPECT_NEAR(*dragged.depth.chamber_spread, *planned.depth.chamber_spread, 1e-6);
    EXPECT_TRUE(dragged.depth.feasible);
    for (std::size_t i = 0; i < planned.seats.size(); ++i) {
        const Seat &a = dragged.seats[i], &b = planned.seats[i];
        EXPECT_NEAR(*a.depth, *b.depth, 1e-12);
        EXPECT_NEAR(*a.stem_height_after, *b.stem_height_after, 1e-12);
        EXPECT_NEAR(*a.recession_after, *b.recession_after, 1e-12);
        EXPECT_NEAR(*a.tip_grind, *b.tip_grind, 1e-12);
        EXPECT_EQ(a.spring_shim, b.spring_shim);
        EXPECT_NEAR(*a.lash_shim, *b.lash_shim, 1e-12);
        EXPECT_NEAR(*a.removed, *b.removed, 1e-9);
        EXPECT_NEAR(*a.bridge, *b.bridge, 1e-9);
        EXPECT_NEAR(*a.z, *b.z, 1e-12);
        EXPECT_GT(*a.removed, *before.seats[i].removed + 1);
        EXPECT_NE(a.spring_shim, before.seats[i].spring_shim);
    }
    for (std::size_t c = 0; c < planned.chambers.size(); ++c) {
        EXPECT_NEAR(*dragged.chambers[c].after, *planned.chambers[c].after, 1e-6);
        EXPECT_LT(*dragged.chambers[c].compression_after, *before.chambers[c].compression_after);
    }
}

// One seat deeper alone lies lower than its neighbour: circles whose axes lean alike part by the difference.
TEST(AskedDepths, MoveTheBridge) {
    const auto job = read_job();
    const Shape before = design(job, {}, {}, "1");
    const Shape after = with_depths(job, {}, {}, "1", {{"1I", 0.9}});
    const std::size_t i = *job.head.index_of("1I"), e = *job.head.index_of("1E");
    EXPECT_GT(std::abs(*after.seats[i].bridge - *before.seats[i].bridge), 1e-4);
    EXPECT_EQ(after.seats[e].depth, before.seats[e].depth);
}

TEST(AskedDepths, BrokenLimitsAreNamed) {
    auto job = read_job();
    using Codes = std::vector<std::string>;
    EXPECT_EQ(codes(with_depths(job, {}, {}, "1", {{"1I", 0.05}})), Codes{"asked-cleanup"});
    EXPECT_EQ(codes(with_depths(job, {}, {}, "1", {{"1I", 0.40}})), Codes{});  // 0.30 above the others
    EXPECT_EQ(codes(with_depths(job, {}, {}, "1", {{"1I", 0.41}})), Codes{"asked-stem-spread"});
    const Shape far = with_depths(job, {}, {}, "1", {{"1I", 0.95}});
    EXPECT_EQ(codes(far), (Codes{"asked-limit", "asked-stem-spread"}));  // recession 1.0 − 0.1
    EXPECT_FALSE(far.depth.feasible);
    EXPECT_EQ(far.depth.conflict.size(), 2u);
    job.depth.stem_spread.reset();
    job.depth.chamber_spread = 100;
    EXPECT_EQ(codes(with_depths(job, {}, {}, "1", {{"1I", 0.40}})), Codes{"asked-chamber-spread"});
}

TEST(AskedDepths, NonsenseChangesNothingOrIsKeptWithinReason) {
    auto job = read_job();
    const double nan = std::nan("");
    const Shape same = with_depths(job, {}, {}, "1", {{"nobody", 0.5}, {"1E", nan}});
    EXPECT_EQ(same.depth.total, design(job, {}, {}, "1").depth.total);
    EXPECT_TRUE(codes(same).empty());
    const std::size_t i = *job.head.index_of("1I");
    EXPECT_EQ(with_depths(job, {}, {}, "1", {{"1I", -3}}).seats[i].depth, 0.0);
    EXPECT_EQ(with_depths(job, {}, {}, "1", {{"1I", 1e300}}).seats[i].depth, most_asked);
    job.readings.seats[i].cleanup = 5;  // proposed for an insert: no depth to move
    const Shape ring = with_depths(job, {}, {}, "1", {{"1I", 0.2}});
    EXPECT_FALSE(ring.seats[i].depth);
    EXPECT_EQ(ring.seats[i].decision, Decision::insert);
}

}  // namespace
}  // namespace seatwright::shape
