// The whole stage on invented heads: what is reported agrees with the formulas it names, and every seat is
// programmed.
#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "seatwright/cut/conditions.hpp"
#include "seatwright/cut/dwell.hpp"
#include "seatwright/cut/readback.hpp"
#include "seatwright/shape/consequences.hpp"
#include "shaped.hpp"

namespace seatwright::cut {
namespace {

using fixtures::shaped;

TEST(Plan, EverySeatIsPlannedOrderedTimedAndProgrammed) {
    const auto s = shaped(fixtures::wedge_job());
    const Cut cut = s.plan();
    ASSERT_EQ(cut.seats.size(), 8u);
    ASSERT_EQ(cut.order.size(), 8u);
    EXPECT_EQ(std::set<std::size_t>(cut.order.begin(), cut.order.end()).size(), 8u);
    ASSERT_EQ(cut.programs.size(), 1u);
    EXPECT_EQ(cut.programs[0].file, "program-A.ngc");
    EXPECT_GT(cut.programs[0].lines, 8u * 6);
    double seats = 0;
    for (const SeatCut& seat : cut.seats) {
        EXPECT_GT(seat.seconds, 5);
        EXPECT_LT(seat.seconds, 120);  // 0.5 to 2 minutes a seat, from memory of the trade
        seats += seat.seconds;
    }
    EXPECT_GT(cut.seconds_head, seats);
    for (const auto& warning : cut.warnings) EXPECT_EQ(warning.weight, Weight::note) << warning.text;
}

// An operator zeroes as the program says: the words must be those of the zero its Z counts from.
TEST(Plan, TheProgramSaysWhereItsZCountsFrom) {
    auto job = fixtures::wedge_job();
    job.depth.deck_cut = 0.2;
    const std::string datum = [&] {
        const auto hold = hold::plan(job);
        return job.head.valves[hold.setups[0].datum].id;
    }();
    const auto head_of = [&](job::DepthFrom from) {
        job.depth.from = from;
        const auto hold = hold::plan(job);
        const auto find = find::locate(job, hold);
        const auto shape = shape::design(job, hold, find, "1");
        const auto cut = plan(job, hold, find, shape);
        const std::string text = cut.programs.at(0).text;
        // The zero, from the map: the first seat cut, its depth and what its Z is.
        const Stop& stop = cut.programs[0].route.stops.at(0);
        double map_z = 0;
        for (const auto& held : hold.setups[0].valves)
            if (held.valve == stop.valve) map_z = held.map.z();
        return std::pair{text.substr(0, text.find("(X, Y")), map_z - *shape.seats[stop.valve].depth - stop.z};
    };
    const auto [touch, touch_zero] = head_of(job::DepthFrom::touch);
    EXPECT_NE(touch.find("Z0: the cutter touching the old seat of " + datum), std::string::npos) << touch;
    EXPECT_NEAR(touch_zero, 0, 1e-9);
    const auto [level, level_zero] = head_of(job::DepthFrom::datum);
    EXPECT_NE(level.find("level with the seat of " + datum + " before cutting"), std::string::npos) << level;
    EXPECT_NEAR(level_zero, 0, 1e-9);
    const auto [deck, deck_zero] = head_of(job::DepthFrom::deck);
    EXPECT_NE(deck.find("level with the deck where the guide axis of " + datum), std::string::npos) << deck;
    EXPECT_NE(deck.find("the deck cut before"), std::string::npos) << deck;
    // The datum's seat lies this far down its plumb axis from the deck, which is cut by 0.2.
    const auto hold = hold::plan(job);
    const job::Valve& first = job.head.valves[hold.setups[0].datum];
    EXPECT_NEAR(deck_zero, -(first.seat.z() + 0.2) / first.axis().z(), 0.01);
}

// Metal that a measured section shows above the form is met at the cutting feed, not at the approach.
TEST(Plan, TheCuttingFeedBeginsAboveProudMetal) {
    auto s = shaped(fixtures::wedge_job(), 0.15);
    for (auto& seat : s.shape.seats) seat.proud = seat.valve == 0 ? 1.0 : 0.0;
    const Cut cut = s.plan();
    for (const Stop& stop : cut.programs.at(0).route.stops)
        EXPECT_NEAR(stop.cut_start - stop.z, (stop.valve == 0 ? 1.15 : 0.15) + air_gap, 1e-9) << stop.id;
}

// Heights beside the path are counted from the program's own zero.
TEST(Plan, TheClearHeightIsTheSameWhateverZCountsFrom) {
    auto job = fixtures::wedge_job();
    for (auto& valve : job.head.valves) valve.seat.z() += 30;  // a deck below the seats
    const auto above_datum = [&](job::DepthFrom from) {
        job.depth.from = from;
        const auto hold = hold::plan(job);
        const auto find = find::locate(job, hold);
        const auto cut = plan(job, hold, find, shape::design(job, hold, find, "1"));
        const Route& route = cut.programs.at(0).route;
        return route.clear + shape::program_zero(job, hold.setups[route.setup]);
    };
    // Each is rounded up to its own whole millimetre.
    EXPECT_NEAR(above_datum(job::DepthFrom::deck), above_datum(job::DepthFrom::datum), 1.0);
}

TEST(Plan, SpeedFeedAndLoadsFollowTheModel) {
    const auto s = shaped(fixtures::wedge_job());
    const Cut cut = s.plan();
    const job::Material& iron = s.job.materials[0];
    ASSERT_FALSE(cut.seats.empty());
    for (const SeatCut& seat : cut.seats) {
        const auto& points = s.shape.seats[seat.valve].section.points;
        const double largest = 2 * points.back().x();
        EXPECT_NEAR(seat.surface_speed, pi * largest * seat.rpm / 1000, 1e-9);
        EXPECT_TRUE(iron.speed->contains(seat.surface_speed)) << seat.surface_speed;
        EXPECT_TRUE(iron.feed->contains(seat.feed)) << seat.feed;
        EXPECT_NEAR(std::remainder(seat.rpm, s.job.machine.rpm_step), 0, 1e-9);
        // Kienzle per facet, from the section's corners (model: section 4 of what each stage computes).
        double torque = 0, thrust = 0;
        for (std::size_t i = 1; i < points.size(); ++i) {
            const Vec2 d = points[i] - points[i - 1];
            const double b = d.norm(), cosine = d.x() / b, h = seat.feed * cosine;
            const double force = 1150 * std::pow(h, 0.8) * b;
            torque += force * 0.5 * (points[i].x() + points[i - 1].x());
            thrust += 0.5 * force * cosine;
        }
        EXPECT_NEAR(seat.torque, torque, 1e-9 * torque);
        EXPECT_NEAR(seat.thrust, thrust, 1e-9 * thrust);
        EXPECT_NEAR(seat.power, 2 * pi * seat.rpm * torque / 1000 / 60, 1e-9 * seat.power);
        EXPECT_NEAR(seat.chip, seat.feed * std::cos(rad(45)), 1e-12);
        const double K = thrust / seat.feed, k = *s.job.machine.axial_stiffness;
        EXPECT_LE(thrust / k * std::pow(K / (K + k), seat.dwell_turns), dwell_residue * (1 + 1e-9));
    }
}

TEST(Plan, RowsOfAPentRoofAreTwoSetupsWithTheCutterLeftInAcrossThem) {
    auto job = fixtures::pent_roof_job();
    job.valve.exhaust = job.valve.intake;  // one form, one blade setting
    const auto s = shaped(job);
    const Cut cut = s.plan();
    ASSERT_EQ(s.hold.setups.size(), 2u);
    EXPECT_EQ(cut.programs.size(), 2u);
    EXPECT_EQ(cut.cutter_changes, 0);
    EXPECT_EQ(cut.tools.size(), 1u);
}

TEST(Plan, TouchedGuidesAreProgrammedWhereTheyWereFound) {
    auto s = shaped(fixtures::wedge_job());
    find::FoundSetup found;
    found.id = "A";
    for (const auto& held : s.hold.setups[0].valves) {
        find::FoundGuide guide;
        guide.valve = held.valve;
        guide.programmed = held.readout + Vec2(0.031, -0.017);
        guide.touched = held.valve == 0;
        found.guides.push_back(guide);
    }
    find::FoundHead head;
    head.head = "1";
    head.setups = {found};
    s.find.heads.push_back(head);
    const Cut cut = s.plan();
    ASSERT_EQ(cut.programs.size(), 1u);
    EXPECT_TRUE(cut.programs[0].route.from_touches);
    for (const Stop& stop : cut.programs[0].route.stops)
        for (const auto& held : s.hold.setups[0].valves) {
            if (held.valve != stop.valve) continue;
            EXPECT_NEAR((stop.at - held.readout - Vec2(0.031, -0.017)).norm(), 0, 1e-12);
        }
}

TEST(Plan, SeatsWithoutCutterOrDepthAreLeftOutAndSaid) {
    auto s = shaped(fixtures::wedge_job());
    s.shape.seats[2].cutter.reset();
    s.shape.seats[5].program_z.reset();
    s.shape.seats[6].decision = shape::Decision::not_allowed;
    const Cut cut = s.plan();
    EXPECT_EQ(cut.seats.size(), 7u);
    EXPECT_EQ(cut.order.size(), 5u);
    std::set<std::string> codes;
    for (const auto& warning : cut.warnings) codes.insert(warning.code);
    EXPECT_TRUE(codes.count("no-cutter"));
    EXPECT_TRUE(codes.count("no-depth"));
}

TEST(Plan, ATableTooShortForTheClearHeightHandsOutNoProgram) {
    auto job = fixtures::wedge_job();
    job.machine.travel_z = 60;
    const Cut cut = shaped(job).plan();
    EXPECT_TRUE(cut.programs.empty());
    bool refused = false;
    for (const auto& warning : cut.warnings)
        refused = refused || (warning.code == "program-refused" && warning.weight == Weight::blocking);
    EXPECT_TRUE(refused);
}

TEST(Plan, InchAndMillimetreJobsOfOneHeadGiveTheSamePlan) {
    auto inch = fixtures::wedge_job();
    inch.units = LengthUnit::inch;
    const Cut a = shaped(fixtures::wedge_job()).plan(), b = shaped(inch).plan();
    ASSERT_EQ(a.seats.size(), b.seats.size());
    for (std::size_t i = 0; i < a.seats.size(); ++i) {
        EXPECT_EQ(a.seats[i].rpm, b.seats[i].rpm);
        EXPECT_EQ(a.seats[i].seconds, b.seats[i].seconds);
    }
    EXPECT_EQ(a.order, b.order);
    ASSERT_EQ(b.programs.size(), 1u);
    EXPECT_NE(b.programs[0].text.find("G20"), std::string::npos);
}

TEST(Plan, CalmSpeedsLieInTheMachinesRangeAndFollowTheFormula) {
    const Cut cut = shaped(fixtures::wedge_job()).plan();
    ASSERT_FALSE(cut.calm_rpm.empty());
    for (const double rpm : cut.calm_rpm) {
        EXPECT_GE(rpm, 60);
        EXPECT_LE(rpm, 1500);
        const double j = 60 * 180.0 / rpm;
        EXPECT_NEAR(j, std::round(j), 1e-9 * j);
    }
}

TEST(Plan, SameInputSameBits) {
    const auto s = shaped(fixtures::pent_roof_job());
    const Cut a = s.plan(), b = s.plan();
    ASSERT_EQ(a.programs.size(), b.programs.size());
    for (std::size_t i = 0; i < a.programs.size(); ++i) EXPECT_EQ(a.programs[i].text, b.programs[i].text);
}

}  // namespace
}  // namespace seatwright::cut
