// A runout from a trace that slipped or that is not of a whole turn. Invented readings.
#include "seatwright/prove/runout.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "job_fixtures.hpp"
#include "seatwright/base/units.hpp"
#include "spoken.hpp"

namespace seatwright::prove {
namespace {

// 24 readings, off axis by `size`, a step at the sixteenth, a little of the surface.
job::SeatAfter slipped(double size, double step) {
    job::SeatAfter r;
    r.valve = "1I";
    r.gauge_u = 0.0005;
    for (int i = 0; i < 24; ++i)
        r.trace.push_back(size * std::cos(2 * pi * i / 24) + (i >= 15 ? step : 0) +
                          1e-4 * (i % 2 == 0 ? 1 : -1));
    return r;
}

Proof prove_these(std::vector<job::SeatAfter> readings) {
    job::Job job = fixtures::wedge_job(1);
    job.seat[job::Kind::intake] = job::SeatForm{};
    job.seat[job::Kind::intake]->runout_max = 0.05;
    job.readings.proofs = std::move(readings);
    return judge(job);
}

bool warned(const Proof& proof, const char* code) {
    return std::any_of(proof.warnings.begin(), proof.warnings.end(),
                       [&](const Warning& w) { return w.code == code; });
}

TEST(Runout, ASlipThatCannotChangeTheDecisionDoesNot) {
    for (const auto& [size, verdict] :
         {std::pair{0.15, Verdict::fail}, {0.005, Verdict::pass}, {0.0245, Verdict::undecided}}) {
        const Proof proof = prove_these({slipped(size, 0.002)});
        const SeatProof& seat = proof.seats[0];
        ASSERT_TRUE(seat.slip.has_value()) << size;
        EXPECT_NEAR(seat.slip->step, 0.002, 2e-4);
        EXPECT_EQ(seat.judgements[0].verdict, verdict) << *seat.runout;
        EXPECT_EQ(seat.judgements[0].decider.empty(), verdict != Verdict::undecided);
        EXPECT_TRUE(warned(proof, "slipped-zero"));
    }
}

// Of two traces the mean is judged; the one that slipped moves it by half its step.
TEST(Runout, AnEarlierTraceThatSlippedIsNotForgotten) {
    auto first = slipped(0.024, 0.006), last = slipped(0.024, 0);
    first.gauge_u = last.gauge_u = 1e-6;
    last.trace = first.trace;
    for (std::size_t i = 15; i < last.trace.size(); ++i) last.trace[i] -= 0.006;
    const Proof proof = prove_these({first, last});
    EXPECT_TRUE(warned(proof, "slipped-zero"));
    EXPECT_FALSE(proof.seats[0].slip.has_value());
    EXPECT_EQ(proof.seats[0].judgements[0].verdict, Verdict::undecided);
}

TEST(Runout, TheShiftMovesTheDecisionEitherWay) {
    const auto decided = [](double value, TraceDoubt doubt) {
        Judgement j;
        j.what = "runout";
        j.value = value;
        j.limit_high = 0.05;
        j.u = 0.001;
        j.budget = {{"gauge", 0.0005, std::nullopt}};
        decide_runout(j, doubt);
        return j;
    };
    EXPECT_EQ(decided(0.0469, {0.002, false}).verdict, Verdict::pass);
    EXPECT_EQ(decided(0.0475, {0.002, false}).verdict, Verdict::undecided);
    EXPECT_EQ(decided(0.0525, {0.002, false}).verdict, Verdict::undecided);
    EXPECT_EQ(decided(0.0531, {0.002, false}).verdict, Verdict::fail);
    EXPECT_EQ(decided(0.0475, {0, false}).verdict, Verdict::pass);
    EXPECT_EQ(decided(0.010, {0, true}).verdict, Verdict::undecided);
    EXPECT_EQ(spoken(decided(0.010, {0, true}).decider), "a trace over the whole turn");
    EXPECT_EQ(spoken(decided(0.0505, {0, true}).decider), "a trace over the whole turn");
    EXPECT_EQ(decided(0.060, {0, true}).verdict, Verdict::fail) << "the true swing is no less";
}

TEST(Runout, PartOfATurnIsNoPass) {
    job::SeatAfter r;
    r.valve = "1I";
    r.gauge_u = 0.0005;
    r.trace = {0, 0.001, 0.002, 0.002, 0.003, 0.003, 0.004, 0.004};
    const auto verdict = [&](double step) {
        r.angles.clear();
        for (int i = 0; i < 8; ++i) r.angles.push_back(rad(step * i));
        return prove_these({r}).seats[0].judgements[0].verdict;
    };
    EXPECT_EQ(verdict(5), Verdict::undecided);
    EXPECT_EQ(verdict(0), Verdict::undecided) << "all at one angle";
    EXPECT_EQ(verdict(25), Verdict::undecided) << "185 deg not read";
    EXPECT_EQ(verdict(30), Verdict::pass) << "150 deg not read";
    EXPECT_EQ(verdict(45), Verdict::pass);
    for (double& v : r.trace) v *= 20;  // swing 0.080
    EXPECT_EQ(verdict(5), Verdict::fail);
    r.trace = {0.01};  // too few for a shape are judged by the same rule
    r.angles.clear();
    EXPECT_EQ(prove_these({r}).seats[0].judgements[0].verdict, Verdict::undecided);
}

}  // namespace
}  // namespace seatwright::prove
