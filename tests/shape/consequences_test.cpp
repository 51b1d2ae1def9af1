// What a depth brings with it, by hand.
#include "seatwright/shape/consequences.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "job_fixtures.hpp"
#include "seatwright/shape/depth_plan.hpp"
#include "spoken.hpp"

namespace seatwright::shape {
namespace {

void read(job::Job& job, const std::string& valve, double cleanup, const std::string& head = "1") {
    job::SeatBefore r;
    r.head = head;
    r.valve = valve;
    r.stem_height = 47.5;
    r.recession = 0.3;
    r.cleanup = cleanup;
    r.chamber = 64'000;
    job.readings.seats.push_back(r);
}

TEST(Shims, NearestInStockAndNeverAClosedLash) {
    const std::vector<double> stock{0.381, 0.762, 1.524};  // 0.015, 0.030, 0.060 in: common practice
    EXPECT_EQ(spring_shim_for(0.1, stock), 0);
    EXPECT_EQ(spring_shim_for(0.3, stock), 0.381);
    EXPECT_EQ(spring_shim_for(0.6, stock), 0.762);
    EXPECT_EQ(spring_shim_for(5, stock), 1.524);
    EXPECT_EQ(spring_shim_for(0.5, {1.0}), 0);  // as near: the thinner
    EXPECT_NEAR(lash_shim_for(0.14, 0.05), 0.15, 1e-12);
    EXPECT_NEAR(lash_shim_for(0.15, 0.05), 0.15, 1e-12);
    EXPECT_NEAR(lash_shim_for(0.16, 0.05), 0.20, 1e-12);
}

// Derived from the area: 0.25 mm of sink of a 49 mm valve is 0.47 cm3, of 38 mm 0.28, of 30 mm 0.18.
TEST(Chambers, SinkOfAValveAddsItsArea) {
    for (const auto& [diameter, cm3] : {std::pair{49.0, 0.471}, {38.0, 0.284}, {30.0, 0.177}}) {
        auto job = fixtures::wedge_job(1);
        job.valve.intake->head_diameter = diameter;
        job.seat.exhaust->cut_allowed = false;
        job.depth.cleanup_margin = 0;
        job.depth.swept = 580'000;
        read(job, "1I", 0.25);
        const Shape shape = design(job, {}, {}, "1");
        ASSERT_EQ(shape.chambers.size(), 1u);
        EXPECT_NEAR(shape.chambers[0].change / 1000, cm3, 0.001);
        EXPECT_NEAR(*shape.chambers[0].compression_before, (580 + 64) / 64.0, 1e-12);
        EXPECT_NEAR(*shape.chambers[0].compression_after, 1 + 580'000 / (64'000 + shape.chambers[0].change),
                    1e-12);
    }
}

// Derived: 0.1 mm off a deck whose chamber opens 45 cm2 takes 0.45 cm3; recession, counted from the drawing
// height, and its limit stay.
TEST(Deck, CutTakesChamberAndRecession) {
    auto job = fixtures::wedge_job(1);
    job.depth.deck_cut = 0.1;
    job.head.chamber_area = 4500;
    read(job, "1I", 0.1);
    read(job, "1E", 0.1);
    const Shape shape = design(job, {}, {}, "1");
    const double seats = pi / 4 * (44.5 * 44.5 + 38.1 * 38.1) * 0.12;
    EXPECT_NEAR(shape.chambers[0].change, seats - 450, 1e-6);
    EXPECT_NEAR(*shape.chambers[0].before, 64'000, 1e-9);
    for (const auto& seat : shape.seats) {
        EXPECT_NEAR(*seat.recession_added, 0.12, 1e-12);
        EXPECT_NEAR(*seat.recession_after, 0.3 + 0.12, 1e-12);
        EXPECT_NEAR(*seat.depth_high, 1.0 - 0.3, 1e-12);
    }
}

TEST(Stop, FromTheDeckAlongTheGuide) {
    auto job = fixtures::wedge_job(1, 112, 15);
    job.depth.from = job::DepthFrom::deck;
    job.depth.deck_cut = 0.2;
    read(job, "1E", 0.08);  // and recession 0.3; margin 0.02
    const Shape shape = design(job, {}, {}, "1");
    EXPECT_NEAR(*shape.seats[0].z, (-9 + 0.2) / std::cos(rad(15)) - 0.3 - 0.1, 1e-12);
    EXPECT_FALSE(shape.seats[0].program_z);
}

TEST(Warnings, TipGrindBridgeGuideAndForbiddenSeats) {
    auto job = fixtures::wedge_job(1);
    job.depth.bridge_min = 5;
    read(job, "1I", 0.4);
    read(job, "1E", 0.1);
    job.seat.exhaust->cut_allowed = false;
    const job::Valve& worn = job.head.valves[1];
    job.guide[worn.kind]->bore_max = 8.83;
    job.readings.guides.push_back({"1", worn.id, 8.95, 8.90, 8.95});
    const Shape shape = design(job, {}, {}, "1");
    const auto weight = [&](const char* code) -> std::optional<Severity> {
        for (const auto& w : shape.warnings)
            if (w.code == code) return w.severity;
        return std::nullopt;
    };
    EXPECT_EQ(weight("tip-grind"), Severity::note);
    EXPECT_EQ(weight("bridge"), Severity::note);
    EXPECT_EQ(weight("guide-first"), Severity::blocking);
    EXPECT_EQ(weight("cut-not-allowed"), Severity::blocking);  // it needs cutting and must not be
}

TEST(Insert, WallIsWhatTheFormLeavesOfTheRing) {
    auto job = fixtures::wedge_job(1);
    job::Insert ring;
    ring.outside = 48;
    ring.inside = 36;
    ring.depth = 7;
    job.seat.intake->insert = ring;
    const Shape shape = design(job, {}, {}, "1");
    const auto& seat = shape.seats[*job.head.index_of("1I")];
    const double outer = 43.5 / 2 + std::cos(rad(30)), inner = 43.5 / 2 - 1.5 * std::cos(rad(45)) - 1.2 * 0.5;
    EXPECT_NEAR(*seat.insert_wall_outside, 24 - outer, 1e-12);
    EXPECT_NEAR(*seat.insert_wall_inside, inner - 18, 1e-12);
    EXPECT_NEAR(*seat.insert_wall, std::min(24 - outer, inner - 18), 1e-12);
}

TEST(Batch, CommonHeightLiftsEveryHeadToTheWorst) {
    auto job = fixtures::wedge_job(2);
    for (const std::string head : {"1", "2"})
        for (const auto& v : job.head.valves) read(job, v.id, 0.1, head);
    job.readings.seats.back().cleanup = 0.6;  // 2I of head 2
    job.depth.stem_spread = 0.2;
    const auto alone = [&](const std::string& head) {
        return *plan_depths(before_cutting(job, {}, head).problem, job.units).plan.total;
    };
    EXPECT_NEAR(alone("1"), 4 * 0.12, 1e-9);
    EXPECT_NEAR(alone("2"), 2 * 0.12 + 0.42 + 0.62, 1e-9);
    const auto together = [&](const std::string& head) { return *plan_in_batch(job, {}, head).plan.total; };
    EXPECT_NEAR(together("1") + together("2"), 4 * 0.12 + 3 * 0.42 + 0.62, 1e-9);
}

// The same job whatever order its readings come in, and in either unit of speech.
TEST(Design, OrderOfReadingsChangesNothing) {
    auto job = fixtures::wedge_job();
    for (const auto& v : job.head.valves) read(job, v.id, 0.05 * double(v.id[0] - '0'));
    const Shape first = design(job, {}, {}, "1");
    std::reverse(job.readings.seats.begin(), job.readings.seats.end());
    job.units = LengthUnit::inch;
    const Shape second = design(job, {}, {}, "1");
    for (std::size_t v = 0; v < first.seats.size(); ++v)
        EXPECT_EQ(first.seats[v].depth, second.seats[v].depth);
}

}  // namespace
}  // namespace seatwright::shape
