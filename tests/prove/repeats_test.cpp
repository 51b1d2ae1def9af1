// Several readings of one seat: whose gauge, whose hand, what mean. Invented readings and names.
#include <gtest/gtest.h>

#include <cmath>

#include "job_fixtures.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::prove {
namespace {

job::SeatAfter reading() {
    job::SeatAfter r;
    r.valve = "1I";
    return r;
}

job::SeatAfter runout(double value, std::optional<double> gauge_u = std::nullopt) {
    job::SeatAfter r = reading();
    r.runout = value;
    r.gauge_u = gauge_u;
    return r;
}

// Only runout has a limit, 0.050.
SeatProof prove_one(std::vector<job::SeatAfter> readings) {
    job::Job job = fixtures::wedge_job(1);
    job.seat[job::Kind::intake] = job::SeatForm{};
    job.seat[job::Kind::intake]->runout_max = 0.05;
    job.seat[job::Kind::intake]->width = 1.4;
    job.readings.proofs = std::move(readings);
    const Proof proof = judge(job);
    return proof.seats.front();
}

const Judgement& judged(const SeatProof& seat, const std::string& what) {
    for (const auto& j : seat.judgements)
        if (j.what == what) return j;
    ADD_FAILURE() << "no judgement of " << what;
    return seat.judgements.front();
}

TEST(Repeats, AValueKeepsTheGaugeItWasReadWith) {
    job::SeatAfter width = reading();
    width.width = {1.4};
    width.gauge_u = 0.0001;
    const SeatProof seat = prove_one({runout(0.049, 0.005), width});
    EXPECT_NEAR(*judged(seat, "runout").u, 0.010, 1e-15);
    EXPECT_EQ(judged(seat, "runout").verdict, Verdict::undecided);
}

TEST(Repeats, OfSeveralGaugesTheLargestCounts) {
    const auto u = [](std::vector<job::SeatAfter> readings) {
        return judged(prove_one(std::move(readings)), "runout").budget.front().u;
    };
    EXPECT_EQ(u({runout(0.03, 0.005), runout(0.03, 0.001)}), 0.005);
    EXPECT_EQ(u({runout(0.03, 0.001), runout(0.03, 0.005)}), 0.005);
}

TEST(Repeats, AGaugeStatedOnceHoldsForTheReadingsBesideIt) {
    EXPECT_NEAR(judged(prove_one({runout(0.03), runout(0.03, 0.001)}), "runout").budget.front().u, 0.001,
                1e-15)
        << "the next that states it";
    job::SeatAfter first = reading();
    first.stem_height = 48;
    first.gauge_u = 0.002;
    job::SeatAfter last = reading();
    last.width = {1.4};
    last.gauge_u = 0.007;
    EXPECT_NEAR(*judged(prove_one({first, runout(0.03), last}), "runout").u, 0.004, 1e-15)
        << "the last stated before it";
}

TEST(Repeats, TheLeastStepGoesWithItsGauge) {
    job::SeatAfter coarse = runout(0.03, 0.001), fine = reading();
    coarse.resolution = 0.01;
    fine.width = {1.4};
    fine.gauge_u = 0.0005;  // holds its own step
    EXPECT_NEAR(*judged(prove_one({coarse, fine}), "runout").u, 2 * std::sqrt(1e-6 + 1e-4 / 6), 1e-12);
    fine.width.clear();
    fine.runout = 0.03;
    coarse.runout.reset();
    coarse.stem_height = 48;
    EXPECT_NEAR(*judged(prove_one({coarse, fine}), "runout").u, 0.001, 1e-12);
}

TEST(Repeats, EachReadingKeepsWhoTookIt) {
    job::SeatAfter a = runout(0.06, 0.0005), b = reading();
    a.by = "A";
    a.date = "Monday";
    a.gauge = "dial";
    a.calibrated = "January";
    b.by = "B";
    b.vacuum = 81;
    const SeatProof seat = prove_one({a, b});
    ASSERT_EQ(seat.sessions.size(), 2u);
    EXPECT_EQ(seat.sessions[0].by, "A");
    EXPECT_EQ(seat.sessions[0].what, std::vector<std::string>{"runout"});
    EXPECT_EQ(seat.sessions[1].by, "B");
    EXPECT_EQ(seat.sessions[1].date, "") << "A's day is not B's";
    EXPECT_EQ(seat.sessions[1].what, std::vector<std::string>{"vacuum"});
    EXPECT_EQ(*judged(seat, "runout").session, 0u);
    EXPECT_EQ(*judged(seat, "vacuum").session, 1u);
    EXPECT_EQ(seat.by, "A; B");
}

TEST(Repeats, APersonIsNamedOnce) {
    job::SeatAfter a = runout(0.03, 0.0005), b = reading();
    a.by = "A";
    a.gauge = "dial";
    a.calibrated = "January";
    b.width = {1.4};
    SeatProof seat = prove_one({a, b});
    ASSERT_EQ(seat.sessions.size(), 1u);
    EXPECT_EQ(seat.sessions[0].by, "A");
    b.gauge = "magnifier";
    seat = prove_one({a, b});
    ASSERT_EQ(seat.sessions.size(), 2u);
    EXPECT_EQ(seat.sessions[1].by, "A");
    EXPECT_EQ(seat.sessions[1].calibrated, "") << "another gauge's calibration";
}

TEST(Repeats, VacuumReadingsAreAveragedAsAllOthers) {
    std::vector<job::SeatAfter> readings;
    for (const double vacuum : {80.0, 82.0, 81.0}) {
        readings.push_back(reading());
        readings.back().vacuum = vacuum;
        readings.back().vacuum_after = vacuum - 0.1 * (vacuum - 70);  // 1.0, 1.2, 1.1 in 10 s
        readings.back().vacuum_seconds = 10;
    }
    const SeatProof seat = prove_one(readings);
    EXPECT_NEAR(*seat.vacuum, 81, 1e-12);
    EXPECT_NEAR(*judged(seat, "vacuum").value, 81, 1e-12);
    EXPECT_NEAR(*judged(seat, "vacuum loss").value, 1.1, 1e-12);
    EXPECT_NEAR(*seat.leak_rate, 0.11, 1e-12);
    EXPECT_NEAR(*judged(seat, "vacuum").u, judged(seat, "vacuum").coverage / std::sqrt(3), 1e-12)
        << "s = 1, n = 3";
    readings.resize(1);
    EXPECT_FALSE(judged(prove_one(readings), "vacuum").u.has_value());
}

}  // namespace
}  // namespace seatwright::prove
