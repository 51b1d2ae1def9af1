// The whole stage on jobs built in code.
#include <gtest/gtest.h>

#include <algorithm>

#include "job_fixtures.hpp"
#include "seatwright/hold/hold.hpp"
#include "seatwright/shape/shape.hpp"
#include "spoken.hpp"

namespace seatwright::shape {
namespace {

// One setup holding every guide plumb, as hold would give for a wedge head; the tests of this stage need no
// more.
hold::Hold hold_of(const job::Job& job) {
    hold::Hold hold;
    hold::Setup setup;
    setup.id = "A";
    setup.tilt = job.head.valves.front().incline;
    for (std::size_t v = 0; v < job.head.valves.size(); ++v) {
        hold::Held held;
        held.valve = v;
        held.map = setup.rotation() * (job.head.valves[v].seat - job.head.valves[0].seat);
        setup.valves.push_back(held);
    }
    hold.setups.push_back(setup);
    return hold;
}

void read_all(job::Job& job, double cleanup) {
    for (const auto& v : job.head.valves) {
        job::SeatBefore r;
        r.valve = v.id;
        r.stem_height = 47.5;
        r.recession = 0.1;
        r.cleanup = cleanup;
        job.readings.seats.push_back(r);
    }
}

bool has_warning(const Shape& shape, const std::string& code, Severity severity) {
    return std::any_of(shape.warnings.begin(), shape.warnings.end(),
                       [&](const Warning& w) { return w.code == code && w.severity == severity; });
}

TEST(Design, CutsEverySeatToItsCleanupWhenNothingElseBinds) {
    auto job = fixtures::wedge_job();
    read_all(job, 0.12);
    const Shape shape = design(job, hold_of(job), {}, "1");
    ASSERT_EQ(shape.seats.size(), 8u);
    for (const auto& seat : shape.seats) {
        EXPECT_NEAR(*seat.cleanup, 0.14, 1e-12);
        EXPECT_NEAR(*seat.depth, 0.14, 1e-12);
        EXPECT_NEAR(*seat.z, -0.14, 1e-12);
        EXPECT_NEAR(*seat.stem_height_after, 47.64, 1e-12);
        EXPECT_NEAR(*seat.tip_grind, 0.14, 1e-12);
        EXPECT_NEAR(*seat.depth_high, 0.9, 1e-12);
        EXPECT_EQ(seat.limited_by, "recession");
        EXPECT_EQ(seat.decision, Decision::cut);
        EXPECT_EQ(seat.cutter, std::optional<std::size_t>(0));
        EXPECT_NEAR(*seat.blade_setting, seat.section.gauge, 1e-12);
    }
    EXPECT_TRUE(shape.depth.feasible);
    EXPECT_NEAR(*shape.depth.total, 8 * 0.14, 1e-9);
    EXPECT_NEAR(*shape.depth.total_unrounded, 8 * 0.14, 1e-9);
}

TEST(Design, SeatBeyondItsLimitGoesToAnInsertAndTheRestIsPlanned) {
    auto job = fixtures::wedge_job();
    read_all(job, 0.12);
    job.readings.seats[2].cleanup = 1.4;
    const Shape shape = design(job, hold_of(job), {}, "1");
    EXPECT_EQ(shape.seats[2].decision, Decision::insert);
    EXPECT_FALSE(shape.seats[2].depth);
    EXPECT_FALSE(shape.depth.feasible);
    ASSERT_EQ(shape.depth.conflict.size(), 1u);
    EXPECT_NE(spoken(shape.depth.conflict[0]).find(job.head.valves[2].id), std::string::npos);
    EXPECT_TRUE(has_warning(shape, "depth-limit", Severity::blocking));
    EXPECT_NEAR(*shape.depth.total, 7 * 0.14, 1e-9);
}

TEST(Design, StemSpreadLiftsTheOthers) {
    auto job = fixtures::wedge_job();
    read_all(job, 0.12);
    job.readings.seats[1].cleanup = 0.62;  // 1I to 0.64: intakes must come to 47.5 + 0.34
    const Shape shape = design(job, hold_of(job), {}, "1");
    for (std::size_t v = 0; v < 8; ++v) {
        const bool intake = job.head.valves[v].kind == job::Kind::intake;
        EXPECT_NEAR(*shape.seats[v].depth, v == 1 ? 0.64 : (intake ? 0.34 : 0.14), 1e-9) << v;
    }
    EXPECT_NEAR(*shape.depth.stem_spread.intake, 0.30, 1e-9);
}

TEST(Design, NotAllowedIsAValidState) {
    auto job = fixtures::wedge_job();
    for (const auto kind : job::both_kinds) job.seat[kind]->cut_allowed = false;
    const Shape shape = design(job, hold_of(job), {}, "1");
    for (const auto& seat : shape.seats) {
        EXPECT_EQ(seat.decision, Decision::not_allowed);
        EXPECT_FALSE(seat.depth);
        EXPECT_FALSE(seat.section.points.empty());
    }
    EXPECT_TRUE(shape.depth.feasible);
    EXPECT_FALSE(has_warning(shape, "cut-not-allowed", Severity::blocking));
}

TEST(Design, DepthReferencesAgreeWithEachOther) {
    auto job = fixtures::wedge_job();
    read_all(job, 0.12);
    job.head.valves[3].seat.z() -= 0.7;
    const auto hold = hold_of(job);
    const auto of = [&](job::DepthFrom from, double deck) {
        job.depth.from = from;
        job.depth.deck_cut = deck;
        return design(job, hold, {}, "1");
    };
    const Shape touch = of(job::DepthFrom::touch, 0), deck = of(job::DepthFrom::deck, 0),
                datum = of(job::DepthFrom::datum, 0), resurfaced = of(job::DepthFrom::deck, 0.25);
    for (std::size_t v = 0; v < 8; ++v) {
        const double slope = job.head.valves[v].axis().z();
        EXPECT_NEAR(*deck.seats[v].z, job.head.valves[v].seat.z() / slope - 0.1 - 0.14, 1e-12);
        EXPECT_NEAR(*resurfaced.seats[v].z - *deck.seats[v].z, 0.25 / slope, 1e-12);
        EXPECT_NEAR(*datum.seats[v].z, hold.setups[0].valves[v].map.z() - 0.14, 1e-12);
        EXPECT_NEAR(*touch.seats[v].program_z, *datum.seats[v].program_z, 1e-12);
        // Program zero moves as one for all valves: differences between valves are the map's.
        EXPECT_NEAR(*deck.seats[v].program_z - *deck.seats[0].program_z,
                    *touch.seats[v].program_z - *touch.seats[0].program_z, 1e-12);
    }
    EXPECT_NEAR(*deck.seats[0].program_z, *deck.seats[0].z, 1e-12);
}

TEST(Design, MissingFormsAreAWarningNotACrash) {
    auto job = fixtures::wedge_job();
    job.seat.exhaust.reset();
    job.valve.intake.reset();
    job.cutters.clear();
    const Shape shape = design(job, {}, {}, "none such");
    EXPECT_EQ(shape.seats.size(), 8u);
    EXPECT_TRUE(has_warning(shape, "no-form", Severity::blocking));
}

}  // namespace
}  // namespace seatwright::shape
