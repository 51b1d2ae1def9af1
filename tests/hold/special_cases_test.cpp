// Closed forms of the model's special cases, through the stage's one entry function.
#include <gtest/gtest.h>

#include <cmath>

#include "job_fixtures.hpp"
#include "seatwright/hold/hold.hpp"

namespace seatwright {
namespace {

using fixtures::pent_roof_job;
using fixtures::wedge_job;

constexpr double angle_ok = 1e-12;   // rad
constexpr double length_ok = 1e-10;  // mm

TEST(HoldSpecialCases, WedgeHeadIsOneSetupAtItsIncline) {
    const auto hold = hold::plan(wedge_job(4, 112, 19.5));
    ASSERT_EQ(hold.setups.size(), 1u);
    const auto& setup = hold.setups[0];
    EXPECT_EQ(setup.id, "A");
    EXPECT_NEAR(setup.tilt, rad(19.5), angle_ok);
    EXPECT_EQ(setup.swing, 0);
    EXPECT_NEAR(setup.worst_plumb_error, 0, angle_ok);
    EXPECT_EQ(setup.valves.size(), 8u);
    // tan 19.5 deg is above the friction of 0.15 and no loading side is named.
    ASSERT_EQ(hold.warnings.size(), 1u);
    EXPECT_EQ(hold.warnings[0].code, "slides-when-released");
    EXPECT_EQ(hold.warnings[0].severity, Severity::note);
    // All seats on one line along X: the map is the drawing's spacing.
    EXPECT_NEAR(setup.valves[1].map.x(), 44, length_ok);
    EXPECT_NEAR(setup.valves[2].map.x(), 112, length_ok);
    EXPECT_NEAR(setup.valves[7].map.y(), 0, length_ok);
    ASSERT_TRUE(setup.travel_margin[0].has_value());
    EXPECT_NEAR(*setup.travel_margin[0], 900 - (3 * 112 + 44), length_ok);
    EXPECT_NEAR(*setup.travel_margin[1], 300, length_ok);
}

TEST(HoldSpecialCases, PentRoofIsTwoSetupsOfOppositeTilt) {
    const auto hold = hold::plan(pent_roof_job(4, 88, 16));
    ASSERT_EQ(hold.setups.size(), 2u);
    EXPECT_NEAR(hold.setups[0].tilt, -hold.setups[1].tilt, angle_ok);
    EXPECT_NEAR(std::abs(hold.setups[0].tilt), rad(16), angle_ok);
    EXPECT_EQ(hold.setups[0].valves.size(), 8u);
    for (const auto& setup : hold.setups) {
        EXPECT_EQ(setup.datum, setup.valves.front().valve);
        for (const auto& held : setup.valves) EXPECT_TRUE(held.reachable);
    }
}

// With swing both angles are brought to nothing: swing −atan2(a_x, a_z), tilt by the compound-angle rule.
TEST(HoldSpecialCases, CantedGuideWithSwingStandsPlumb) {
    auto job = wedge_job(1, 112, 24);
    for (auto& valve : job.head.valves) valve.cant = rad(4);
    job.fixture.swing = {rad(-10), rad(10)};
    const auto hold = hold::plan(job);
    ASSERT_EQ(hold.setups.size(), 1u);
    EXPECT_NEAR(hold.setups[0].swing, rad(-4), angle_ok);
    EXPECT_NEAR(std::tan(hold.setups[0].tilt), std::tan(rad(24)) * std::cos(rad(4)), angle_ok);
    EXPECT_NEAR(hold.setups[0].worst_plumb_error, 0, angle_ok);
    const Vec3 held = hold.setups[0].rotation() * job.head.valves[0].axis();
    EXPECT_NEAR((held - Vec3::UnitZ()).norm(), 0, angle_ok);
}

// Without swing the least plumb error left is asin|a_x|, at tilt atan2(a_y, a_z) = the incline itself.
TEST(HoldSpecialCases, CantedGuideWithoutSwingKeepsItsCant) {
    auto job = wedge_job(1, 112, 24);
    for (auto& valve : job.head.valves) valve.cant = rad(4);
    const auto hold = hold::plan(job);
    ASSERT_EQ(hold.setups.size(), 1u);
    const auto& setup = hold.setups[0];
    EXPECT_NEAR(setup.tilt, rad(24), angle_ok);
    EXPECT_NEAR(setup.worst_plumb_error, std::asin(std::abs(job.head.valves[0].axis().x())), angle_ok);
    EXPECT_FALSE(setup.valves[0].reachable);
    int blocking = 0;
    for (const auto& warning : hold.warnings)
        blocking += warning.code == "plumb-limit" && warning.severity == Severity::blocking;
    EXPECT_EQ(blocking, 2);
    // A limit equal to the exact error is met.
    job.fixture.plumb_limit = std::asin(std::abs(job.head.valves[0].axis().x()));
    EXPECT_TRUE(hold::plan(job).setups[0].valves[0].reachable);
}

TEST(HoldSpecialCases, CantedHeadWithSwingNeedsFourSetupsInHeadOrder) {
    auto job = wedge_job(4, 112, 24);
    job.fixture.swing = {rad(-10), rad(10)};
    for (auto& valve : job.head.valves) {
        valve.incline = rad(valve.kind == job::Kind::intake ? 24 : -15);
        valve.cant = rad((valve.cylinder % 2 == 1) ? 4 : -4);
    }
    const auto hold = hold::plan(job);
    ASSERT_EQ(hold.setups.size(), 4u);
    for (std::size_t s = 1; s < 4; ++s)
        EXPECT_LT(hold.setups[s - 1].valves.front().valve, hold.setups[s].valves.front().valve);
    EXPECT_EQ(hold.setups[3].id, "D");
}

TEST(HoldSpecialCases, ATiltOutOfRangeIsTheNearestOneAndSaysSo) {
    auto job = wedge_job(2, 112, 40);
    job.fixture.tilt = {rad(-30), rad(35)};
    job.fixtures = {job.fixture};
    const auto hold = hold::plan(job);
    ASSERT_EQ(hold.setups.size(), 1u);
    EXPECT_NEAR(hold.setups[0].tilt, rad(35), angle_ok);
    EXPECT_NEAR(hold.setups[0].worst_plumb_error, rad(5), angle_ok);
    EXPECT_FALSE(hold.setups[0].valves[0].reachable);
    EXPECT_FALSE(hold.fixtures[0].fits);
}

TEST(HoldSpecialCases, NamedDatumAndReadoutSigns) {
    auto job = wedge_job(2, 112, 20);
    job.head.datum = "2E";
    job.machine.x_sign = -1;
    const auto hold = hold::plan(job);
    const auto& setup = hold.setups[0];
    EXPECT_EQ(job.head.valves[setup.datum].id, "2E");
    EXPECT_NEAR(setup.valves[0].map.x(), -112, length_ok);
    EXPECT_NEAR(setup.valves[0].readout.x(), 112, length_ok);
}

TEST(HoldSpecialCases, MapSpanBeyondTravelIsBlocking) {
    auto job = wedge_job(6, 130, 20);
    job.machine.travel_x = 500;
    const auto hold = hold::plan(job);
    EXPECT_NEAR(*hold.setups[0].travel_margin[0], 500 - (5 * 130 + 44), length_ok);
    ASSERT_FALSE(hold.warnings.empty());
    EXPECT_EQ(hold.warnings[0].code, "travel");
    EXPECT_EQ(hold.warnings[0].severity, Severity::blocking);
}

TEST(HoldSpecialCases, BareHeadNeedsNothingElse) {
    auto job = wedge_job(4);
    job.head.bolt_holes.clear();
    job.head.mass.reset();
    job.machine = {};
    job::Fixture bare;
    bare.tilt = {rad(-30), rad(50)};
    bare.plumb_limit = rad(0.05);
    job.fixture = bare;
    job.fixtures.clear();
    const auto hold = hold::plan(job);
    ASSERT_EQ(hold.setups.size(), 1u);
    EXPECT_FALSE(hold.posts.has_value());
    EXPECT_FALSE(hold.level.has_value());
    EXPECT_FALSE(hold.setups[0].safety.slip_factor.has_value());
    EXPECT_FALSE(hold.setups[0].travel_margin[0].has_value());
    job.head.valves.clear();
    EXPECT_TRUE(hold::plan(job).setups.empty());
}

}  // namespace
}  // namespace seatwright
