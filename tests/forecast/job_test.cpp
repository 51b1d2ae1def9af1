// The special cases of cases_test.cpp again, asked as a person asks: by a job. Answers from the same
// computation beforehand (18 to 25 digits, drawn again with four million heads each); mm and degrees.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "small_job.hpp"

namespace seatwright::forecast {
namespace {

using namespace test;

// Within what the forecast says of its own error.
void expect_rate(const Forecast& f, double wanted) {
    ASSERT_TRUE(f.pass_rate && f.pass_error);
    EXPECT_NEAR(*f.pass_rate, wanted, std::max(2 * *f.pass_error, 5e-7));
    EXPECT_LT(*f.pass_error, 5e-4);
}

TEST(ForecastOfAJob, ABlindRun) {
    Figures f;
    f.valves = guide("1I", 300, 40);
    f.clearance = 0.4;
    f.find = "casting_sd = 0.08\npositioning_sd = 0.02\n";
    f.forecast = nothing;
    expect_rate(forecast_of(f, quick()), 0.9949040004);
}

// More guides than a setup has cannot be touched: all of them are, and it is said.
TEST(ForecastOfAJob, MoreTouchesThanGuidesAreSaid) {
    Figures f;
    f.valves = guide("1I", 300, 40) + guide("2I", 400, 40);
    f.clearance = 0.4;
    f.find = "casting_sd = 0.08\npositioning_sd = 0.02\n";
    const auto said = [&](const char* touches) {
        f.forecast = std::string(nothing) + "touches = " + touches + "\n";
        const Forecast out = forecast_of(f, quick());
        EXPECT_LE(out.touched.size(), 2U);
        return std::any_of(out.warnings.begin(), out.warnings.end(),
                           [](const Warning& w) { return w.code == "touches-beyond"; });
    };
    EXPECT_TRUE(said("99"));
    EXPECT_FALSE(said("2"));
}

TEST(ForecastOfAJob, TwoGuidesThroughYaw) {
    Figures f;
    f.valves = guide("1I", 100, 0) + guide("2I", 300, 0);
    f.clearance = 0.4;
    f.mouth = 10.3;
    f.find =
        "casting_sd = 0.05\npositioning_sd = 0\ncarry = { x = 0, y = 0, sd = 1e-6, yaw_sd = \"0.020257118 "
        "deg\" "
        "}\n";
    f.forecast = nothing;
    // √2·0.4/(4·400) rad = 0.020257 deg.
    expect_rate(forecast_of(f, quick()), 0.751180344);
}

TEST(ForecastOfAJob, PositioningAloneWithVerdictAndRisks) {
    Figures f;
    f.mouth = 10.5;
    f.stiffness = float_for(0.2);
    f.seat = "runout_max = 0.05\n";
    f.find = "casting_sd = 0\npositioning_sd = 0.06\n";
    f.forecast = std::string(nothing) + "share = 1\ngauge_u = 0.003\n";
    const Forecast out = forecast_of(f, quick());
    expect_rate(out, 0.9869670926);
    ASSERT_TRUE(out.verdict && out.risk);
    EXPECT_NEAR(out.verdict->pass, 0.9621697068, 1e-7);
    EXPECT_NEAR(out.verdict->fail, 0.0050173814, 1e-7);
    EXPECT_NEAR(out.risk->consumer, 4.96183e-5, 1e-8);
    EXPECT_NEAR(out.risk->producer, 0.0248470041, 1e-7);
    EXPECT_NEAR(out.risk->producer_fail, 6.78409e-5, 1e-8);
    // Rayleigh: mean and 95 % point of the runout.
    ASSERT_FALSE(out.characteristics.empty());
    const Characteristic& runout = out.characteristics.front();
    EXPECT_NEAR(*runout.mean, 0.0212694462, 1e-7);
    EXPECT_NEAR(*runout.p95, 0.0415396416, 1e-7);
    EXPECT_NEAR(*runout.pass_rate, 0.9869670926, 1e-7);
    ASSERT_EQ(out.causes.size(), 1u);
    EXPECT_EQ(out.causes.front().cause, "positioning");
    EXPECT_DOUBLE_EQ(out.causes.front().share, 1);
}

TEST(ForecastOfAJob, PlayAndPilotRunout) {
    Figures f;
    f.style = "parallel";
    // Play at the seat: clearance·(1/2 + 50/50) = 0.03.
    f.pilot = 10 - 0.02;
    f.tip = 9.9;
    f.seat = "runout_max = 0.03\n";
    f.find = "casting_sd = 0\npositioning_sd = 0\n";
    f.forecast = nothing;
    Forecast out = forecast_of(f, quick());
    expect_rate(out, 0.5);
    EXPECT_NEAR(*out.characteristics.front().mean, 0.0282842712, 1e-7);
    EXPECT_NEAR(out.characteristics.front().sd, 0.01, 1e-6);
    EXPECT_NEAR(*out.characteristics.front().p05, 0.0094868330, 1e-7);
    f.forecast = std::string("level_sd = 0\nheight_sd = 0\nzero_sd = 0\ndepth_sd = 0\nwidth_sd = 0\n") +
                 "guide_angle_sd = 0\npilot_runout = 0.02\n";
    expect_rate(forecast_of(f, quick()), 0.4928654088);
    f.forecast = std::string("level_sd = 0\nheight_sd = 0\nzero_sd = 0\ndepth_sd = 0\nwidth_sd = 0\n") +
                 "guide_angle_sd = 0.03\npilot_runout = 0\n";
    expect_rate(forecast_of(f, quick()), 0.4048592439);
    // A pilot that turns with the tool has no such runout.
    f.style = "live";
    f.forecast = std::string("level_sd = 0\nheight_sd = 0\nzero_sd = 0\ndepth_sd = 0\nwidth_sd = 0\n") +
                 "guide_angle_sd = 0\npilot_runout = 0.02\n";
    expect_rate(forecast_of(f, quick()), 0.5);
}

TEST(ForecastOfAJob, SpreadOfStemHeights) {
    Figures f;
    f.valves = guide("1I", 0, 0) + guide("2I", 100, 0) + guide("3I", 200, 0) + guide("4I", 300, 0);
    f.find = "casting_sd = 0\npositioning_sd = 0\n";
    f.seat = "stem_height = 50\n";
    f.forecast =
        "level_sd = 0\nguide_angle_sd = 0\nheight_sd = 0\nzero_sd = 0\ndepth_sd = 0.02\nwidth_sd = "
        "0\npilot_runout = 0\n";
    f.more = "[depth]\nstem_spread = 0.06\n";
    expect_rate(forecast_of(f, quick()), 0.8537285190);
    f.seat = "stem_height = 50\nstem_height_max = 50.03\n";
    f.forecast =
        "level_sd = 0\nguide_angle_sd = 0\nheight_sd = 0\nzero_sd = 0.02\ndepth_sd = 0.02\nwidth_sd = "
        "0\npilot_runout = 0\n";
    expect_rate(forecast_of(f, quick()), 0.5930332192);
    f.more = "";
    const Forecast out = forecast_of(f, quick());
    expect_rate(out, 0.6528647585);
    EXPECT_FALSE(out.verdict) << "no gauge reads heights";
}

TEST(ForecastOfAJob, WearAndChangesOfTheBlade) {
    Figures f;
    f.valves = guide("1I", 0, 0) + guide("2I", 100, 0);
    f.find = "casting_sd = 0\npositioning_sd = 0\n";
    f.seat = "width_tol = 0.05\n";
    f.forecast =
        "heads = 7\nchange_every = 3\nlevel_sd = 0\nguide_angle_sd = 0\nheight_sd = 0\nzero_sd = 0\n"
        "depth_sd = 0\nwidth_sd = 0.02\nwidth_wear = 0.01\npilot_runout = 0\n";
    const Forecast out = forecast_of(f, quick());
    ASSERT_EQ(out.by_head.size(), 7u);
    const auto within = [](double mean) {
        const auto below = [](double z) { return 0.5 * std::erfc(-z / std::sqrt(2.0)); };
        return below((0.05 - mean) / 0.02) - below((-0.05 - mean) / 0.02);
    };
    double mean = 0;
    for (int h = 0; h < 7; ++h) {
        const double worn = 0.01 * 2 * (h % 3);
        const double wanted = within(worn) * within(worn + 0.01);
        EXPECT_NEAR(out.by_head[static_cast<std::size_t>(h)], wanted, 1e-8) << h;
        mean += wanted / 7;
    }
    EXPECT_NEAR(*out.pass_rate, mean, 1e-8);
    EXPECT_EQ(out.change_at_head, 4);
}

// A head's attitude lifts its far seats: the lever counts from where Z0 was taken.
TEST(ForecastOfAJob, LevelsDecideStemHeights) {
    Figures f;
    f.valves = guide("1I", 0, 0) + guide("2I", 370, 0);
    f.find = "casting_sd = 0\npositioning_sd = 0\n";
    f.seat = "stem_height = 50\n";
    f.forecast =
        "level_sd = 0.02\nguide_angle_sd = 0\nheight_sd = 0\nzero_sd = 0\ndepth_sd = 0\nwidth_sd = "
        "0\npilot_runout = 0\n";
    f.more = "[depth]\nstem_spread = 0.1\nzero_on = \"1I\"\n";
    const Forecast out = forecast_of(f, quick());
    // |N(0, (0.02 deg · 370)²)| ≤ 0.1.
    const double sd = 0.02 * M_PI / 180 * 370;
    EXPECT_NEAR(*out.pass_rate, std::erf(0.1 / sd / std::sqrt(2.0)), std::max(2 * *out.pass_error, 1e-9));
}

// Causes add to the mean square of the runout, touched or not, and halving one takes off three quarters of
// its own part while the fit's gain is held.
TEST(ForecastOfAJob, CausesAddUp) {
    Figures f;
    f.valves = guide("1I", 0, 0) + guide("2I", 100, 10) + guide("3I", 220, -5) + guide("4I", 300, 0);
    f.clearance = 0.3;
    f.stiffness = float_for(0.4);
    f.style = "parallel";
    f.pilot = 9.99;
    f.tip = 9.9;
    f.seat = "runout_max = 0.05\n";
    f.find = "casting_sd = 0.06\npositioning_sd = 0.01\n";
    for (const int touches : {0, 2, 4}) {
        f.forecast = fmt::format(
            "touches = {}\nlevel_sd = 0.02\nguide_angle_sd = 0.01\nshare = 0.7\npilot_runout = 0.01\n",
            touches);
        const Forecast out = forecast_of(f, quick());
        EXPECT_EQ(out.touched.size(), static_cast<std::size_t>(touches));
        double sum = 0;
        for (const Cause& cause : out.causes) {
            EXPECT_GT(cause.share, 0) << cause.cause;
            sum += cause.share;
        }
        EXPECT_NEAR(sum, 1, 1e-12);
        const Characteristic& runout = out.characteristics.front();
        double square = 0;
        for (const Cause& cause : out.causes) square += cause.rms * cause.rms;
        EXPECT_NEAR(square, *runout.mean * *runout.mean + runout.sd * runout.sd, 1e-6 * square) << touches;
        EXPECT_EQ(std::any_of(out.causes.begin(), out.causes.end(),
                              [](const Cause& c) { return c.cause == "touch"; }),
                  touches > 0);
    }
}

TEST(ForecastOfAJob, WhatCannotBeSaidIsNotSaid) {
    Figures f;
    f.mouth = 11;
    const Forecast no_limits = forecast_of(f);
    EXPECT_TRUE(no_limits.pass_rate) << "pilots enter or not";
    EXPECT_TRUE(no_limits.verdict) << "entering needs no gauge";
    f.seat = "runout_max = 0.05\nwidth_tol = 0.2\nstem_height_max = 51\n";
    const Forecast no_gauge = forecast_of(f);
    EXPECT_TRUE(no_gauge.pass_rate);
    EXPECT_FALSE(no_gauge.verdict);
    EXPECT_FALSE(no_gauge.risk);
    EXPECT_TRUE(std::any_of(no_gauge.warnings.begin(), no_gauge.warnings.end(),
                            [](const Warning& w) { return w.code == "gauge-not-known"; }));
    for (const Characteristic& c : no_gauge.characteristics)
        EXPECT_EQ(c.mean.has_value(), c.what != "stem height") << "no stem height is planned";
    // What does not vary has no capability.
    f.forecast = "width_sd = 0\n";
    for (const Characteristic& c : forecast_of(f, quick()).characteristics)
        EXPECT_TRUE(c.what != "width" || !c.cpk) << *c.cpk;
    for (const Input& input : no_gauge.inputs) EXPECT_TRUE(std::isfinite(input.value)) << input.what;
    ASSERT_TRUE(no_gauge.pass_low && no_gauge.pass_high);
    EXPECT_LE(*no_gauge.pass_low, *no_gauge.pass_rate);
    EXPECT_GE(*no_gauge.pass_high, *no_gauge.pass_rate);
}

TEST(ForecastOfAJob, GaugesOfTheShelf) {
    Figures f;
    f.seat = "runout_max = 0.05\nwidth_tol = 0.2\n";
    f.more = R"([[gauge]]
name = "dial"
reads = ["runout"]
u = 0.002
step = 0.002
[[gauge]]
name = "lens"
reads = ["width"]
u = 0.02
)";
    const Forecast out = forecast_of(f, quick());
    EXPECT_TRUE(out.verdict);
    const auto value = [&](const char* what) {
        for (const Input& input : out.inputs)
            if (input.what == what) return input.value;
        return -1.0;
    };
    // A runout is the difference of two figures of the dial.
    EXPECT_NEAR(value("forecast.gauge_u"), std::hypot(0.002, 0.002 * std::sqrt(2 / 12.0)), 1e-12);
    EXPECT_DOUBLE_EQ(value("forecast.width_gauge_u"), 0.02);
    EXPECT_EQ(value("forecast.height_gauge_u"), -1);
}

}  // namespace
}  // namespace seatwright::forecast
