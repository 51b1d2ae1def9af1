// Slip, slide, lift: closed forms and who is warned when.
#include "seatwright/hold/safety.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "job_fixtures.hpp"
#include "spoken.hpp"

namespace seatwright {
namespace {

hold::Setup setup_at(const job::Job& job, double tilt_deg, double swing_deg) {
    hold::Setup setup;
    setup.id = "A";
    setup.tilt = rad(tilt_deg);
    setup.swing = rad(swing_deg);
    setup.safety = hold::safety_of(job.head, job.fixture, {setup.tilt, setup.swing});
    return setup;
}

std::size_t warnings_of(const job::Job& job, double tilt_deg, const char* code) {
    std::size_t count = 0;
    for (const auto& w : hold::safety_warnings(setup_at(job, tilt_deg, 0))) count += w.code == code;
    return count;
}

TEST(HoldSafety, SlipFactorClosedForm) {
    const auto job = fixtures::wedge_job();
    const auto safety = setup_at(job, 30, 0).safety;
    EXPECT_NEAR(safety.slope, rad(30), 1e-15);
    EXPECT_NEAR(*safety.slip_factor, 2 * 0.15 * 6000 / (21 * 9.80665 * 0.5), 1e-12);
    // Tilt and swing together: cos slope = cos tilt · cos swing.
    EXPECT_NEAR(setup_at(job, 20, 10).safety.slope, std::acos(std::cos(rad(20)) * std::cos(rad(10))), 1e-15);
}

TEST(HoldSafety, FlatDeckHasNoSlipFactorAndStays) {
    const auto safety = setup_at(fixtures::wedge_job(), 0, 0).safety;
    EXPECT_EQ(safety.slope, 0);
    EXPECT_FALSE(safety.slip_factor.has_value());
    EXPECT_FALSE(safety.slides_when_released);
}

// Angle of repose: tan of the slope against the friction.
TEST(HoldSafety, SlidesBeyondTheAngleOfRepose) {
    auto job = fixtures::wedge_job();
    const double repose = deg(std::atan(0.15));
    EXPECT_FALSE(setup_at(job, repose - 0.01, 0).safety.slides_when_released);
    EXPECT_TRUE(setup_at(job, repose + 0.01, 0).safety.slides_when_released);
    EXPECT_TRUE(setup_at(job, -repose - 0.01, 0).safety.slides_when_released);
    EXPECT_EQ(warnings_of(job, 20, "slides-when-released"), 1u);
    EXPECT_EQ(warnings_of(job, 5, "slides-when-released"), 0u);
    job.fixture.captive = true;
    EXPECT_EQ(warnings_of(job, 20, "slides-when-released"), 0u);
    EXPECT_TRUE(setup_at(job, 20, 0).safety.stopped);
}

// Positive tilt lifts the +Y side of the deck: Rx(tilt) takes +Y to (0, cos, sin), so the back is uphill.
TEST(HoldSafety, LoadingFromTheUphillSideLetsThePostsStopIt) {
    auto job = fixtures::wedge_job();
    EXPECT_GT((attitude_rotation(rad(20), 0) * Vec3::UnitY()).z(), 0);
    EXPECT_EQ(setup_at(job, 20, 0).safety.uphill, job::LoadSide::back);
    EXPECT_EQ(setup_at(job, -20, 0).safety.uphill, job::LoadSide::front);
    EXPECT_FALSE(setup_at(job, 0, 20).safety.uphill.has_value());
    job.fixture.load_from = job::LoadSide::back;
    EXPECT_EQ(warnings_of(job, 20, "slides-when-released"), 0u);
    EXPECT_EQ(warnings_of(job, -20, "slides-when-released"), 1u);
    const auto text = spoken(hold::safety_warnings(setup_at(job, -20, 0))[0].text);
    EXPECT_NE(text.find("21 kg"), std::string::npos) << text;
    EXPECT_NE(text.find("from the front"), std::string::npos) << text;
    EXPECT_NE(text.find("tilt it back"), std::string::npos) << text;
}

TEST(HoldSafety, WeakClampsAreSaidAndTooWeakOnesStop) {
    auto job = fixtures::wedge_job();
    job.fixture.clamp_force = 500;  // 2·0.15·500 / (21·9.81·sin 30°) = 1.46
    EXPECT_EQ(warnings_of(job, 30, "slip"), 1u);
    EXPECT_EQ(hold::safety_warnings(setup_at(job, 30, 0))[0].severity, Severity::note);
    job.fixture.clamp_force = 300;
    EXPECT_EQ(hold::safety_warnings(setup_at(job, 30, 0))[0].severity, Severity::blocking);
    job.fixture.clamp_force = 6000;
    EXPECT_EQ(warnings_of(job, 30, "slip"), 0u);
}

// Common practice: about 23 kg for one person.
TEST(HoldSafety, HeavyHeadsAreLiftedByTwo) {
    auto job = fixtures::wedge_job();
    job.head.mass = 23;
    EXPECT_FALSE(hold::lift_warning(job).has_value());
    job.head.mass = 23.1;
    EXPECT_TRUE(hold::lift_warning(job).has_value());
    job.head.mass.reset();
    EXPECT_FALSE(hold::lift_warning(job).has_value());
}

}  // namespace
}  // namespace seatwright
