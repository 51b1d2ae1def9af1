// What heads are judged with: which gauge counts, that it counts as prove will say, and what another one of
// the shelf, or another cutter, would change. Answers are closed forms, or the case "verdict and risks" of
// cases_test.cpp, computed beforehand by other programs.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "seatwright/words/in_words.hpp"
#include "small_job.hpp"

namespace seatwright::forecast {
namespace {

using test::Figures;

const Input* input_of(const Forecast& f, const std::string& what) {
    const auto at = std::find_if(f.inputs.begin(), f.inputs.end(),
                                 [&](const Input& input) { return input.what == what; });
    return at == f.inputs.end() ? nullptr : &*at;
}

void expect_u(const Forecast& f, const char* key, double u, From from) {
    const Input* input = input_of(f, key);
    ASSERT_TRUE(input) << key;
    EXPECT_NEAR(input->value, u, 1e-12) << key;
    EXPECT_EQ(input->from, from) << key;
}

bool says(const std::vector<Warning>& warnings, const std::string& code) {
    return std::any_of(warnings.begin(), warnings.end(), [&](const Warning& w) { return w.code == code; });
}

const Change* change_of(const Forecast& f, const std::string& what, const Setting& to) {
    const auto at = std::find_if(f.changes.begin(), f.changes.end(),
                                 [&](const Change& c) { return c.what == what && c.to == to; });
    return at == f.changes.end() ? nullptr : &*at;
}

const std::string shelf = R"(
[[gauge]]
name = "dial"
reads = ["runout"]
u = 0.002
step = 0.002
calibrated_until = "2026-03-31"
[[gauge]]
name = "lens"
reads = ["width"]
u = 0.02
[[gauge]]
name = "fine lens"
reads = ["width"]
u = 0.01
)";
const char* const limits = "runout_max = 0.05\nwidth_tol = 0.2\n";

std::string reading(const char* head, const std::string& carries) {
    return std::string("[[reading.proof]]\nhead = \"") + head + "\"\nvalve = \"1I\"\nby = \"x\"\n" + carries;
}

Forecast with_readings(const std::string& readings) {
    Figures f;
    f.seat = limits;
    f.more = shelf + readings;
    return forecast_of(f, test::quick());
}

TEST(Gauges, EachQuantityByTheGaugeItsLastReadingNames) {
    const Forecast out = with_readings(
        reading("1", "runout = 0.02\nwidth = [1.5]\ngauge = { runout = \"dial\", width = \"fine lens\" }\n") +
        // A later head whose widths alone were read: it says nothing of runouts.
        reading("2", "width = [1.5]\ngauge = { width = \"lens\" }\n"));
    expect_u(out, "forecast.gauge_u", std::hypot(0.002, 0.002 * std::sqrt(2 / 12.0)), From::record);
    expect_u(out, "forecast.width_gauge_u", 0.02, From::record);
    EXPECT_FALSE(says(out.warnings, "gauge-overdue")) << "no date is on record";
}

// The u of prove's own judgement of the same reading.
TEST(Gauges, CountAsProveWillSay) {
    Figures f;
    f.seat = limits;
    f.more = shelf +
             reading("1", "runout = 0.02\nwidth = [1.5]\ngauge = { runout = \"dial\", width = \"lens\" }\n");
    const job::Job job = test::job_of(f);
    plan::Run run(std::shared_ptr<const job::Job>(std::shared_ptr<const job::Job>(), &job), {});
    const auto proof = run.proof();
    const Forecast out = forecast(job, run.plan(), proof, test::quick());
    int seen = 0;
    for (const auto& seat : proof.seats)
        for (const auto& j : seat.judgements)
            for (const auto& [what, key] :
                 {std::pair("runout", "forecast.gauge_u"), std::pair("width", "forecast.width_gauge_u")})
                if (j.what == what && j.value) {
                    ASSERT_TRUE(j.u) << what;
                    expect_u(out, key, *j.u / j.coverage, From::record);
                    ++seen;
                }
    EXPECT_EQ(seen, 2);
}

TEST(Gauges, WhatAReadingLeavesOutStandsInTheLast) {
    // Stated once, with the first reading of that seat; the second takes it over.
    const Forecast out = with_readings(reading("1", "width = [1.5]\ngauge_u = 0.004\nresolution = 0.01\n") +
                                       reading("1", "width = [1.51]\n"));
    expect_u(out, "forecast.width_gauge_u", std::hypot(0.004, 0.01 / std::sqrt(12.0)), From::record);
}

TEST(Gauges, OfSeveralOnTheShelfTheCoarsestUntilAReadingNamesOne) {
    const Forecast out = with_readings("");
    expect_u(out, "forecast.width_gauge_u", 0.02, From::job);
    EXPECT_TRUE(out.verdict);
    const auto said = [](const Forecast& f) {
        return std::any_of(f.assumptions.begin(), f.assumptions.end(), [](const Sentence& s) {
            return in_words(s, {}).find("coarsest") != std::string::npos;
        });
    };
    EXPECT_TRUE(said(out));
    EXPECT_FALSE(said(with_readings(reading("1", "width = [1.5]\ngauge = { width = \"fine lens\" }\n"))));
}

TEST(Gauges, OneOutOfCalibrationIsSaid) {
    const auto dated = [](const char* date) {
        return with_readings(reading("1", std::string("runout = 0.02\ngauge = { runout = \"dial\" }\ndate = "
                                                      "\"") +
                                              date + "\"\n"));
    };
    EXPECT_TRUE(says(dated("2026-04-01").warnings, "gauge-overdue"));
    EXPECT_FALSE(says(dated("2026-03-31").warnings, "gauge-overdue"));
}

// Positioning alone, judged with 0.006; the shelf has one of 0.003, whose answers are known.
TEST(Gauges, AnotherOneChangesVerdictsAndRisksAlone) {
    Figures f;
    f.mouth = 10.5;
    f.stiffness = test::float_for(0.2);
    f.seat = "runout_max = 0.05\n";
    f.find = "casting_sd = 0\npositioning_sd = 0.06\n";
    f.forecast = std::string(test::nothing) + "share = 1\ngauge_u = 0.006\n";
    f.more =
        "[[gauge]]\nname = \"better\"\nreads = [\"runout\"]\nu = 0.003\n"
        "[[gauge]]\nname = \"worse\"\nreads = [\"runout\"]\nu = 0.009\n"
        "[[gauge]]\nname = \"of widths\"\nreads = [\"width\"]\nu = 0.001\n";
    const Forecast out = forecast_of(f);
    ASSERT_TRUE(out.verdict);
    const Change* better = change_of(out, "runout gauge", std::string("better"));
    ASSERT_TRUE(better && better->as_measured);
    EXPECT_NEAR(better->as_measured->verdict.pass, 0.9621697068, 1e-6);
    EXPECT_NEAR(better->as_measured->verdict.fail, 0.0050173814, 1e-6);
    EXPECT_NEAR(better->as_measured->risk.consumer, 4.96183e-5, 1e-7);
    EXPECT_NEAR(better->as_measured->risk.producer, 0.0248470041, 1e-6);
    EXPECT_NEAR(better->as_measured->gain, 0.9621697068 - out.verdict->pass, 1e-6);
    EXPECT_LE(better->as_measured->gain_low, better->as_measured->gain);
    EXPECT_GE(better->as_measured->gain_high, better->as_measured->gain);
    EXPECT_TRUE(better->significant);
    EXPECT_EQ(better->gain, 0) << "no head is better for it";
    EXPECT_NEAR(better->pass_rate, *out.pass_rate, 1e-6);
    ASSERT_TRUE(better->cost);
    EXPECT_TRUE(better->cost->once);
    // Half the uncertainty is the same figure.
    const Change* half = change_of(out, "runout gauge", 0.003);
    ASSERT_TRUE(half && half->as_measured);
    EXPECT_EQ(half->as_measured->gain, better->as_measured->gain);
    EXPECT_FALSE(half->cost);
    const Change* worse = change_of(out, "runout gauge", std::string("worse"));
    ASSERT_TRUE(worse && worse->as_measured);
    EXPECT_LT(worse->as_measured->gain, 0);
    EXPECT_FALSE(worse->significant);
    EXPECT_FALSE(change_of(out, "width gauge", std::string("of widths"))) << "no width is judged";
    // By good heads first: what changes none stands between what helps and what harms.
    EXPECT_TRUE(std::is_sorted(out.changes.begin(), out.changes.end(),
                               [](const Change& a, const Change& b) { return a.gain > b.gain; }));
}

// A blade leaves its own width of face: with another one the widths lie about another middle.
TEST(Cutters, AnotherOneLeavesAnotherWidth) {
    const auto facets = [](const char* name, double width) {
        return fmt::format(
            "[[cutter]]\nname = \"{}\"\nfacets = [{{ angle = 45, width = {:.17g} }}]\n"
            "gauge_diameter = [40, 60]\n",
            name, width);
    };
    const double drawn = std::sqrt(2.0);  // the small head's
    Figures f;
    f.valves = test::guide("1I", 0, 0) + test::guide("2I", 100, 0);
    f.find = "casting_sd = 0\npositioning_sd = 0\n";
    f.seat = "width_tol = 0.05\n";
    f.forecast =
        "level_sd = 0\nguide_angle_sd = 0\nheight_sd = 0\nzero_sd = 0\ndepth_sd = 0\nwidth_sd = 0.02\n"
        "pilot_runout = 0\nwidth_gauge_u = 0.005\n";
    f.more = facets("near", drawn + 0.01) + facets("off", drawn + 0.03) + facets("too wide", drawn + 0.06);
    const auto within = [](double off, double tol, double sd) {
        const auto below = [&](double x) { return 0.5 * std::erfc(-(x - off) / sd / std::sqrt(2.0)); };
        return std::pow(below(tol) - below(-tol), 2);  // of two seats
    };
    const Forecast out = forecast_of(f);
    ASSERT_TRUE(out.pass_rate && out.verdict);
    EXPECT_NEAR(*out.pass_rate, within(0.01, 0.05, 0.02), 1e-7);
    EXPECT_NEAR(out.verdict->pass, within(0.01, 0.04, std::hypot(0.02, 0.005)), 1e-7);
    const Change* off = change_of(out, "intake cutter", std::string("off"));
    ASSERT_TRUE(off);
    EXPECT_EQ(off->from, Setting(std::string("near")));
    EXPECT_NEAR(off->pass_rate, within(0.03, 0.05, 0.02), 1e-7);
    EXPECT_LT(off->gain, 0);
    EXPECT_FALSE(change_of(out, "intake cutter", std::string("too wide"))) << "it breaks a tolerance";
    // Drawn head by head it comes to the same.
    Asked asked = test::quick();
    asked.draws = 100'000;
    const Forecast drawn_too = forecast_of(f, asked);
    EXPECT_NEAR(*drawn_too.pass_rate, *out.pass_rate, 5 * std::sqrt(*out.pass_rate * 0.1 / 1e5));
    for (const Forecast* one : {&out, &drawn_too})
        for (const Characteristic& c : one->characteristics)
            if (c.what == "width") {
                EXPECT_NEAR(*c.mean, drawn + 0.01, 5e-4);
            }
}

}  // namespace
}  // namespace seatwright::forecast
