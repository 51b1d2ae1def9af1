// The stage as a whole on jobs built in code. Invented readings.
#include <gtest/gtest.h>

#include <cmath>

#include "job_fixtures.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::prove {
namespace {

job::SeatAfter reading(const std::string& head, const std::string& valve) {
    job::SeatAfter r;
    r.head = head;
    r.valve = valve;
    r.gauge_u = 0.001;
    for (int i = 0; i < 24; ++i) r.trace.push_back(0.1 + 0.008 * std::cos(2 * pi * i / 24 - rad(30)));
    r.width = {1.48, 1.50, 1.52};
    r.stem_height = 48.0;
    return r;
}

job::Job proven_job() {
    job::Job job = fixtures::wedge_job(2);
    for (const auto& v : job.head.valves) job.readings.proofs.push_back(reading("1", v.id));
    return job;
}

const Judgement& judgement(const SeatProof& seat, const std::string& what) {
    for (const auto& j : seat.judgements)
        if (j.what == what) return j;
    ADD_FAILURE() << "no judgement of " << what;
    return seat.judgements.front();
}

TEST(Judge, EverythingRightPasses) {
    const Proof proof = judge(proven_job());
    EXPECT_EQ(proof.verdict, Verdict::pass);
    ASSERT_EQ(proof.seats.size(), 4u);
    const SeatProof& seat = proof.seats[0];
    EXPECT_NEAR(*seat.tir, 0.016, 2e-4);
    EXPECT_NEAR(*seat.eccentricity, 0.008, 1e-12);
    EXPECT_NEAR(deg(*seat.eccentricity_direction), 30, 1e-9);
    EXPECT_NEAR(seat.roundness->mz, 0, 1e-12);
    EXPECT_NEAR(*judgement(seat, "runout").u, 0.002, 1e-15);
    EXPECT_NEAR(*judgement(seat, "width").value, 1.5, 1e-12);
    EXPECT_NEAR(*judgement(seat, "width").limit_low, 1.3, 1e-12);
    EXPECT_TRUE(proof.warnings.empty());
}

TEST(Judge, AMissingReadingIsNeverAPass) {
    job::Job job = proven_job();
    job.readings.proofs[1].stem_height.reset();
    EXPECT_EQ(judge(job).verdict, Verdict::not_measured);
    job = proven_job();
    job.readings.proofs.pop_back();
    const Proof proof = judge(job);
    EXPECT_EQ(proof.verdict, Verdict::not_measured);
    EXPECT_EQ(proof.unmeasured.size(), 1u);
    job.readings.proofs.clear();
    EXPECT_EQ(judge(job).verdict, Verdict::not_measured);
}

TEST(Judge, AFailureBlocksAndAGoodVacuumDoesNotSaveIt) {
    job::Job job = proven_job();
    for (double& r : job.readings.proofs[2].trace) r = 0.1 + 4 * (r - 0.1);
    job.readings.proofs[2].vacuum = 85;
    const Proof proof = judge(job);
    EXPECT_EQ(proof.verdict, Verdict::fail);
    EXPECT_EQ(judgement(proof.seats[2], "vacuum").verdict, Verdict::pass);
    EXPECT_EQ(proof.seats[2].verdict, Verdict::fail);
    const bool blocking = std::any_of(proof.warnings.begin(), proof.warnings.end(),
                                      [](const Warning& w) { return w.severity == Severity::blocking; });
    EXPECT_TRUE(blocking);
}

// Common practice: 25 inHg losing at most 5 in 10 s; at least 20 inHg with the pump running.
TEST(Judge, AVacuumThatIsLostFailsByItselfAndIsFollowedOverTheHeads) {
    job::Job job = fixtures::wedge_job(1);
    for (int h = 1; h <= 4; ++h)
        for (const auto& v : job.head.valves) {
            auto r = reading(std::to_string(h), v.id);
            r.vacuum = (25 - 0.5 * h) * kpa_per_inhg;
            r.vacuum_after = *r.vacuum - 2 * kpa_per_inhg;
            r.vacuum_seconds = 5;  // 4 inHg in 10 s
            job.readings.proofs.push_back(r);
        }
    Proof proof = judge(job);
    EXPECT_EQ(proof.verdict, Verdict::pass);
    const auto& loss = judgement(proof.seats[0], "vacuum loss");
    EXPECT_NEAR(*loss.value, 4 * kpa_per_inhg, 1e-12);
    EXPECT_NEAR(*loss.limit_high, 5 * kpa_per_inhg, 1e-12);
    const auto series = std::find_if(proof.batch.begin(), proof.batch.end(),
                                     [](const Series& s) { return s.what == "vacuum"; });
    ASSERT_NE(series, proof.batch.end());
    EXPECT_EQ(series->points.size(), 4u);
    EXPECT_NEAR(*series->drift_per_head, -0.5 * kpa_per_inhg, 1e-9);
    EXPECT_NEAR(*series->limit_low, 20 * kpa_per_inhg, 1e-12);

    job.seat[job::Kind::exhaust]->vacuum_loss_max = 3.9 * kpa_per_inhg;
    proof = judge(job);
    EXPECT_EQ(judgement(proof.seats[0], "vacuum loss").verdict, Verdict::fail) << "the job's own limit";
    EXPECT_EQ(judgement(proof.seats[1], "vacuum loss").verdict, Verdict::pass) << "the intake seat has none";
    job.readings.proofs[0].vacuum_after.reset();
    EXPECT_EQ(judgement(judge(job).seats[0], "vacuum loss").verdict, Verdict::not_measured);
    job = fixtures::wedge_job(1);
    job.seat[job::Kind::intake]->vacuum_min = 70;
    for (const auto& v : job.head.valves) job.readings.proofs.push_back(reading("1", v.id));
    EXPECT_EQ(judge(job).verdict, Verdict::not_measured) << "a limit of the job's own wants a reading";
}

TEST(Judge, WhatIsLostOfAVacuumFailsAlone) {
    job::Job job = proven_job();
    auto& r = job.readings.proofs[0];
    r.vacuum = 25 * kpa_per_inhg;
    r.vacuum_after = 23 * kpa_per_inhg;
    r.vacuum_seconds = 3;  // 6.7 inHg in 10 s
    const Proof proof = judge(job);
    EXPECT_EQ(judgement(proof.seats[0], "vacuum loss").verdict, Verdict::fail);
    EXPECT_EQ(judgement(proof.seats[0], "vacuum").verdict, Verdict::pass);
    EXPECT_EQ(judgement(proof.seats[0], "runout").verdict, Verdict::pass) << "only what was lost fails";
}

TEST(Judge, OneHeadOnRequestTheBatchOverAll) {
    job::Job job = fixtures::wedge_job(1);
    for (int h = 1; h <= 6; ++h)
        for (const auto& v : job.head.valves) job.readings.proofs.push_back(reading(std::to_string(h), v.id));
    for (double& r : job.readings.proofs[0].trace) r = 0.1 + 6 * (r - 0.1);
    EXPECT_EQ(judge(job).verdict, Verdict::fail);
    const Proof third = judge(job, "3");
    EXPECT_EQ(third.verdict, Verdict::pass);
    EXPECT_EQ(third.seats.size(), 2u);
    ASSERT_FALSE(third.batch.empty());
    EXPECT_EQ(third.batch[0].points.size(), 6u);
}

TEST(Judge, RepeatsWidenTheUncertainty) {
    job::Job job = fixtures::wedge_job(1);
    for (const double runout : {0.030, 0.034, 0.032}) {
        job::SeatAfter r;
        r.valve = "1I";
        r.runout = runout;
        r.gauge_u = 0.001;
        job.readings.proofs.push_back(r);
    }
    const Proof proof = judge(job);
    const auto& j = judgement(proof.seats[0], "runout");
    EXPECT_NEAR(*j.value, 0.032, 1e-12);
    // u² = 0.001² + 0.002²/3, ν = u⁴/((0.002²/3)²/2) = 6.125; Student's 95.45 % factor there is 2.50.
    EXPECT_NEAR(*j.u, 2.50 * std::sqrt(1e-6 + 4e-6 / 3), 5e-5);
    auto other = job.readings.proofs.front();
    other.head = "2";
    other.runout = 0.040;
    job.readings.proofs.push_back(other);
    EXPECT_NEAR(judge(job).batch.at(0).points.at(0), 0.032, 1e-12) << "the series follows what is judged";
}

// JCGM 100 F.2.2.1: a step δ brings δ/√12 to one reading; a runout is the difference of two.
TEST(Judge, TheStepOfTheGaugeCountsWhereItIsGiven) {
    job::Job job = proven_job();
    for (auto& r : job.readings.proofs) r.resolution = 0.01;
    const Proof proof = judge(job);
    EXPECT_NEAR(*judgement(proof.seats[0], "runout").u, 2 * std::sqrt(1e-6 + 1e-4 / 6), 1e-12);
    EXPECT_NEAR(*judgement(proof.seats[0], "stem height").u, 2 * std::sqrt(1e-6 + 1e-4 / 12), 1e-12);
    EXPECT_EQ(judgement(proof.seats[0], "runout").budget.back().what, "reading resolution");
    for (auto& r : job.readings.proofs) r.gauge_u.reset();
    EXPECT_NEAR(*judgement(judge(job).seats[0], "width").u, 2 * 0.01 / std::sqrt(12), 1e-12);
}

TEST(Judge, WithoutGaugeUncertaintyTheValueIsComparedAndSaysSo) {
    job::Job job = proven_job();
    for (auto& r : job.readings.proofs) r.gauge_u.reset();
    const Proof proof = judge(job);
    EXPECT_EQ(proof.verdict, Verdict::pass);
    EXPECT_FALSE(judgement(proof.seats[0], "runout").u.has_value());
    const bool said = std::any_of(proof.warnings.begin(), proof.warnings.end(),
                                  [](const Warning& w) { return w.code == "uncertainty-not-stated"; });
    EXPECT_TRUE(said);
}

TEST(Judge, ANarrowPlaceIsNotHiddenByTheMean) {
    job::Job job = proven_job();
    job.readings.proofs[0].width = {1.5, 1.5, 1.5, 1.2};
    const Proof proof = judge(job);
    EXPECT_EQ(judgement(proof.seats[0], "width").verdict, Verdict::pass);
    EXPECT_EQ(judgement(proof.seats[0], "width, narrowest place").verdict, Verdict::fail);
    EXPECT_EQ(proof.verdict, Verdict::fail);
}

}  // namespace
}  // namespace seatwright::prove
