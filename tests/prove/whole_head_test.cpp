// What a head is held to as a whole, and which limits nothing was read against. Invented readings.
#include <gtest/gtest.h>

#include <algorithm>
#include <utility>

#include "job_fixtures.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::prove {
namespace {

// Two cylinders, two seats of each kind; intakes as given, exhausts alike.
job::Job with_stems(double first_intake, double second_intake) {
    job::Job job = fixtures::wedge_job(2);
    job.depth.stem_spread = 0.3;
    bool second = false;
    for (const auto& v : job.head.valves) {
        job::SeatAfter r;
        r.head = "1";
        r.valve = v.id;
        r.gauge_u = 0.01;
        r.runout = 0.01;
        r.width = {1.5};
        r.stem_height = 48.0;
        if (v.kind == job::Kind::intake)
            r.stem_height = std::exchange(second, true) ? second_intake : first_intake;
        job.readings.proofs.push_back(std::move(r));
    }
    return job;
}

bool warns(const Proof& proof, const char* code) {
    return std::any_of(proof.warnings.begin(), proof.warnings.end(),
                       [&](const Warning& w) { return w.code == code; });
}

bool is_not_judged(const Proof& proof, const char* what) {
    return std::any_of(proof.not_judged.begin(), proof.not_judged.end(),
                       [&](const NotJudged& l) { return l.what == what; });
}

// Every seat within its own limits; U of a difference is √2·0.02.
TEST(WholeHead, StemsFurtherApartThanTheJobAllowsFailTheHead) {
    const job::Job job = with_stems(47.8, 48.2);
    const Proof proof = judge(job);
    for (const SeatProof& seat : proof.seats) EXPECT_EQ(seat.verdict, Verdict::pass);
    EXPECT_EQ(proof.verdict, Verdict::fail);
    EXPECT_TRUE(warns(proof, "stem-spread"));
    ASSERT_EQ(proof.stem_spreads.size(), 2u);
    const StemSpread& intakes = proof.stem_spreads.front();
    EXPECT_EQ(job.head.valves[intakes.lowest].id, "1I");
    EXPECT_EQ(job.head.valves[intakes.highest].id, "2I");
    EXPECT_NEAR(*intakes.judgement.value, 0.4, 1e-12);
    EXPECT_NEAR(*intakes.judgement.u, 0.0282843, 1e-7);
    EXPECT_EQ(proof.stem_spreads.back().judgement.verdict, Verdict::pass);

    EXPECT_EQ(judge(with_stems(47.9, 48.16)).verdict, Verdict::pass);
    EXPECT_EQ(judge(with_stems(47.9, 48.19)).verdict, Verdict::undecided);
    EXPECT_EQ(judge(with_stems(47.9, 48.22)).verdict, Verdict::undecided);
    EXPECT_EQ(judge(with_stems(47.9, 48.24)).verdict, Verdict::fail);
}

TEST(WholeHead, WithoutALimitNothingIsSaidOfIt) {
    job::Job job = with_stems(47.8, 48.2);
    job.depth.stem_spread.reset();
    const Proof proof = judge(job);
    EXPECT_EQ(proof.verdict, Verdict::pass);
    EXPECT_TRUE(proof.stem_spreads.empty());
    EXPECT_FALSE(is_not_judged(proof, "stem spread"));
}

// Of a kind of which a seat was not read the rest may fail and never pass.
TEST(WholeHead, AStemNotReadLeavesTheSpreadOpenAndSaysSo) {
    job::Job job = with_stems(47.9, 47.9);
    for (const auto kind : job::both_kinds) job.seat[kind]->stem_height_max.reset();
    job.readings.proofs.front().stem_height.reset();
    const Proof proof = judge(job);
    EXPECT_EQ(proof.stem_spreads.size(), 1u);
    EXPECT_TRUE(is_not_judged(proof, "stem spread"));
    EXPECT_EQ(proof.verdict, Verdict::pass) << "as without the limit";
}

TEST(WholeHead, LimitsNoReadingIsHeldAgainstAreNamed) {
    job::Job job = with_stems(48, 48);
    for (const auto kind : job::both_kinds) {
        job.seat[kind]->recession_max.reset();
        job.seat[kind]->recession_min.reset();
    }
    job.depth.chamber_spread.reset();
    EXPECT_TRUE(judge(job).not_judged.empty());
    job.seat[job::Kind::intake]->recession_max = 0.9;
    job.seat[job::Kind::exhaust]->below_deck_max = 1.7;
    const Proof proof = judge(job);
    ASSERT_EQ(proof.not_judged.size(), 2u);
    EXPECT_EQ(proof.not_judged[0].what, "below deck");
    EXPECT_EQ(proof.not_judged[0].kind, job::Kind::exhaust);
    EXPECT_EQ(proof.not_judged[1].what, "recession");
    EXPECT_EQ(proof.verdict, Verdict::pass) << "they turn no verdict";
}

// A proof's stem height has a lower limit as well as an upper.
TEST(WholeHead, AStemBelowItsLeastHeightFails) {
    job::Job job = with_stems(48, 48);
    const auto verdict = [&](double least) {
        for (const auto kind : job::both_kinds) job.seat[kind]->stem_height_min = least;
        return judge(job).verdict;
    };
    EXPECT_EQ(verdict(47.9), Verdict::pass);
    EXPECT_EQ(verdict(47.99), Verdict::undecided);
    EXPECT_EQ(verdict(48.01), Verdict::undecided);
    EXPECT_EQ(verdict(48.1), Verdict::fail);
    const Proof proof = judge(job);
    for (const auto& j : proof.seats.front().judgements)
        if (j.what == "stem height") {
            EXPECT_EQ(j.limit_low, 48.1);
            EXPECT_EQ(j.limit_high, 48.5);
        }
}

}  // namespace
}  // namespace seatwright::prove
