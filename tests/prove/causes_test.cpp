// What a trace's shape is said to come from, on traces made by the model itself. Invented readings.
#include "seatwright/prove/causes.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "job_fixtures.hpp"
#include "seatwright/prove/components.hpp"
#include "spoken.hpp"

namespace seatwright::prove {
namespace {

job::SeatAfter traced(int points, double a1, double a2, double a3, int marks, double am,
                      double noise = 0.0002) {
    std::mt19937_64 random(21);
    std::normal_distribution<double> normal(0, noise);
    job::SeatAfter r;
    r.valve = "1I";
    r.gauge_u = 0.001;
    for (int i = 0; i < points; ++i) {
        const double t = 2 * pi * i / points;
        r.trace.push_back(a1 * std::cos(t - 1) + a2 * std::cos(2 * t) + a3 * std::cos(3 * t + 1) +
                          am * std::cos(marks * t) + normal(random));
    }
    return r;
}

std::vector<Cause> causes(const job::Job& base, job::SeatAfter reading) {
    job::Job job = base;
    job.readings.proofs = {std::move(reading)};
    return judge(job).seats.front().causes;
}

const Cause* find(const std::vector<Cause>& all, const std::string& what) {
    for (const auto& c : all)
        if (c.what == what) return &c;
    return nullptr;
}

// The model's formula backwards: a seat that stands off by play and plumb error has the eccentricity it says.
TEST(Causes, SizesThatWouldExplainIt) {
    const auto job = fixtures::wedge_job(2);
    const auto lever = lever_of(job, *job.head.index_of("1I"));
    ASSERT_TRUE(lever.has_value());
    EXPECT_NEAR(lever->gauge_diameter, 44.5 - 1.0 - 1.5 * std::cos(rad(45)), 1e-12);
    EXPECT_NEAR(eccentricity_of_play(*lever, play_for(*lever, 0.012)), 0.012, 1e-15);
    EXPECT_NEAR(eccentricity_of_plumb(*lever, plumb_for(*lever, 0.012)), 0.012, 1e-15);
    // 0.05 deg on a 42.4 mm gauge circle at 45 deg: 21.2·8.73e-4·0.707 = 0.0131 mm, runout twice that.
    EXPECT_NEAR(2 * eccentricity_of_plumb(*lever, rad(0.05)), 0.0262, 1e-4);
}

TEST(Causes, SharesAndNames) {
    const auto job = fixtures::wedge_job(2);
    const auto all = causes(job, traced(360, 0.01, 0.008, 0.006, 11, 0.004));
    ASSERT_EQ(all.size(), 4u);
    const double square = (1.0 + 0.64 + 0.36 + 0.16) / 2;
    EXPECT_EQ(all[0].what, "seat off the guide axis");
    EXPECT_NEAR(all[0].share, 0.5 / square, 0.01);
    EXPECT_NEAR(find(all, "oval")->share, 0.32 / square, 0.01);
    EXPECT_NEAR(find(all, "three-lobe")->share, 0.18 / square, 0.01);
    EXPECT_NEAR(find(all, "chatter")->share, 0.08 / square, 0.01);
    EXPECT_NE(spoken(find(all, "oval")->sureness).find("cannot be told"), std::string::npos);
}

TEST(Causes, ChatterMarksGiveAFrequencyAndCalmSpeeds) {
    auto job = fixtures::wedge_job(2);
    for (const int marks : {11, 37}) {
        const auto all = causes(job, traced(720, 0.004, 0, 0, marks, 0.004));
        const auto* c = find(all, "chatter");
        ASSERT_NE(c, nullptr) << marks;
        EXPECT_EQ(c->orders.front(), marks);
        ASSERT_TRUE(c->frequency.has_value());
        const double turns = 60 * *c->frequency / marks;  // f = M·n/60
        EXPECT_GT(turns, *job.machine.rpm_min);
        EXPECT_LE(turns, *job.machine.rpm_max);
        job.readings.proofs = {traced(720, 0.004, 0, 0, marks, 0.004)};
        const Proof proof = judge(job);
        ASSERT_FALSE(proof.calm_rpm.empty());
        const double ratio = 60 * *c->frequency / proof.calm_rpm.front();
        EXPECT_NEAR(ratio, std::round(ratio), 1e-9);
    }
}

TEST(Causes, PlayAsReadIsNamedWhenItIsEnough) {
    auto job = fixtures::wedge_job(2);
    job.pilots = {{"8.70 live", job::PilotStyle::parallel, 8.70, 0, 80, 8.4}};
    job.readings.guides = {{"1", "1I", 8.730, 8.730, 8.730, 0}};
    job.readings.levels = {{"1", "1I", job::Across::incline, rad(0.001), rad(-0.001), 0}};
    const auto all = causes(job, traced(360, 0.02, 0, 0, 5, 0));
    const auto* c = find(all, "seat off the guide axis");
    ASSERT_NE(c, nullptr);
    EXPECT_NE(spoken(c->statement).find("8.70 live"), std::string::npos) << spoken(c->statement);
    EXPECT_NE(spoken(c->sureness).find("play is likely"), std::string::npos) << spoken(c->sureness);
}

TEST(Causes, ASlippedTraceNamesNothing) {
    auto job = fixtures::wedge_job(2);
    auto r = traced(72, 0.01, 0, 0, 0, 0);
    for (std::size_t i = 30; i < r.trace.size(); ++i) r.trace[i] += 0.03;
    job.readings.proofs = {r};
    const Proof proof = judge(job);
    ASSERT_TRUE(proof.seats[0].slip.has_value());
    EXPECT_TRUE(proof.seats[0].causes.empty());
    EXPECT_NE(proof.seats[0].verdict, Verdict::pass);
}

TEST(Causes, NoiseAloneNamesNothing) {
    const auto job = fixtures::wedge_job(2);
    EXPECT_TRUE(causes(job, traced(360, 0, 0, 0, 5, 0, 0.002)).empty());
}

// Crossed random effects made with known spreads come back (400 heads of 4 seats; sd of a component estimated
// from 400 is about 4 %).
TEST(Components, KnownSpreadsComeBack) {
    auto job = fixtures::wedge_job(4);
    std::mt19937_64 random(2);
    std::normal_distribution<double> normal;
    std::vector<std::string> heads;
    for (int h = 1; h <= 400; ++h) {
        const double head = 0.004 * normal(random);
        heads.push_back(std::to_string(h));
        for (std::size_t v = 0; v < job.head.valves.size(); ++v) {
            job::SeatAfter r;
            r.head = heads.back();
            r.valve = job.head.valves[v].id;
            const double position = job.head.valves[v].id == "3I" ? 0.010 : 0;
            r.runout = 0.03 + head + position + 0.002 * normal(random);
            job.readings.proofs.push_back(r);
        }
    }
    const Proof proof = judge(job);
    double head = 0, rest = 0, shares = 0;
    for (const auto& c : proof.components)
        if (c.what == "runout" && c.kind == job::Kind::intake) {
            if (c.factor == "head") head = c.sd;
            if (c.factor == "rest") rest = c.sd;
            shares += c.share;
        }
    EXPECT_NEAR(head, 0.004, 0.0004);
    EXPECT_NEAR(rest, 0.002, 0.0002);
    EXPECT_NEAR(shares, 1, 1e-12);
    for (const auto& p : proof.positions) {
        if (p.what == "runout" && job.head.valves[p.valve].id == "3I") {
            EXPECT_GT(p.worst_in, 350u);
        }
    }
}

}  // namespace
}  // namespace seatwright::prove
