// The stage as a whole on heads built by hand.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "find_fixtures.hpp"
#include "seatwright/base/numerics/disc_probability.hpp"
#include "spoken.hpp"

namespace seatwright::find {
namespace {

using fixtures::hold_of;
using fixtures::simulate;
using fixtures::wedge_job;

bool warned(const Find& find, const std::string& code) {
    return std::any_of(find.warnings.begin(), find.warnings.end(),
                       [&](const Warning& w) { return w.code == code; });
}

job::Job touched_wedge(unsigned seed, const std::vector<std::size_t>& valves) {
    std::mt19937_64 random(seed);
    job::Job job = wedge_job();
    const hold::Hold hold = hold_of(job, rad(19.5));
    return simulate(job, hold, valves, rad(0.05), {0.3, -0.2}, random).job;
}

TEST(Locate, EveryGuideHasAPlaceWithinItsUncertainty) {
    std::mt19937_64 random(5);
    job::Job job = wedge_job();
    const hold::Hold hold = hold_of(job, rad(19.5));
    const auto made = simulate(job, hold, {0, 3, 7}, rad(0.05), {0.3, -0.2}, random);
    const Find find = locate(made.job, hold);
    ASSERT_EQ(find.heads.size(), 1U);
    const FoundSetup& setup = find.heads[0].setups.at(0);
    EXPECT_EQ(setup.guides.size(), 8U);
    EXPECT_EQ(setup.dof, 2 * 3 - 3 + 1);
    ASSERT_TRUE(setup.p_value);
    for (const FoundGuide& guide : setup.guides) {
        const Vec2 miss = made.truth[guide.valve] - guide.at;
        EXPECT_LT(std::abs(miss.x()), 4.5 * std::sqrt(guide.covariance(0, 0)));
        EXPECT_LT(std::abs(miss.y()), 4.5 * std::sqrt(guide.covariance(1, 1)));
        // Rounded to the readout, and the probability is that of the disc (9.5 − 8.4)/2 = 0.55.
        EXPECT_NEAR(guide.programmed.x() * 1000, std::round(guide.programmed.x() * 1000), 1e-6);
        Mat2 noise = guide.covariance;
        noise.diagonal().array() += 0.005 * 0.005;
        ASSERT_TRUE(guide.enter_probability);
        EXPECT_NEAR(*guide.enter_probability,
                    numerics::disc_probability(guide.at - guide.programmed, noise, 0.55), 1e-12);
        EXPECT_EQ(guide.touched, guide.valve == 0 || guide.valve == 3 || guide.valve == 7);
    }
    EXPECT_FALSE(warned(find, "suspect-touch"));
}

TEST(Locate, NoTouchesMeansTheMapFromTheZeroedDatum) {
    const job::Job job = wedge_job();
    const hold::Hold hold = hold_of(job, rad(19.5));
    const Find find = locate(job, hold);
    const FoundSetup& setup = find.heads.at(0).setups.at(0);
    EXPECT_EQ(find.heads[0].head, "1");
    EXPECT_TRUE(setup.datum_assumed);
    EXPECT_FALSE(setup.p_value);
    for (std::size_t v = 0; v < 8; ++v)
        EXPECT_NEAR((setup.guides[v].at - hold.setups[0].valves[v].readout).norm(), 0, 1e-9);
    EXPECT_FALSE(find.assumptions.empty());
}

TEST(Locate, GrossErrorIsSetAsideShownAndKept) {
    job::Job job = touched_wedge(10, {0, 2, 4, 6, 7});
    const hold::Hold hold = hold_of(job, rad(19.5));
    const Find clean = locate(job, hold);
    job.readings.touches[2].at += Vec2(1.6, -1.2);
    const Find find = locate(job, hold);
    EXPECT_TRUE(warned(find, "suspect-touch"));
    const FoundSetup& setup = find.heads[0].setups[0];
    ASSERT_EQ(setup.set_aside.size(), 1U);
    EXPECT_EQ(setup.set_aside[0], 2U);
    EXPECT_TRUE(setup.guides[4].suspect && setup.guides[4].touched);
    EXPECT_EQ(setup.dof, 2 * 4 - 3 + 1);
    EXPECT_NEAR(setup.yaw, clean.heads[0].setups[0].yaw, 5e-4);
    ASSERT_TRUE(setup.guides[4].innovation2);
    EXPECT_GT(*setup.guides[4].innovation2, -2 * std::log(0.001 / 5));
}

// Turning the wrong way round: an alternating layout (other spacing for every second cylinder) so that the
// ways differ.
TEST(Locate, NamesThePatternTheWrongWayRound) {
    std::mt19937_64 random(31);
    job::Job job = wedge_job();
    for (auto& valve : job.head.valves) {
        if (valve.kind == job::Kind::intake) valve.seat.y() += 6;
        if (valve.cylinder == 1) valve.seat.x() += 5;
    }
    const hold::Hold hold = hold_of(job, rad(19.5));
    const std::pair<Vec2, Pattern> ways[] = {{{-1, -1}, Pattern::end_for_end},
                                             {{-1, 1}, Pattern::mirrored},
                                             {{1, -1}, Pattern::mirrored_end_for_end}};
    for (const auto& [sign, pattern] : ways) {
        hold::Hold turned = hold;
        for (auto& held : turned.setups[0].valves) held.readout = held.readout.cwiseProduct(sign);
        const auto made = simulate(job, turned, {0, 2, 5, 7}, rad(0.03), {0.1, 0.1}, random);
        const Find find = locate(made.job, hold);
        EXPECT_EQ(find.heads[0].setups[0].pattern, pattern);
        EXPECT_TRUE(warned(find, "wrong-way-round"));
        // With a flat yaw the half turn is seen from the yaw alone.
        job::Job flat = made.job;
        flat.find.yaw_sd.reset();
        EXPECT_EQ(locate(flat, hold).heads[0].setups[0].pattern, pattern);
        for (std::size_t v = 0; v < 8; ++v)
            EXPECT_NEAR((find.heads[0].setups[0].guides[v].at - made.truth[v]).norm(), 0, 0.6);
    }
    const auto honest = simulate(job, hold, {0, 2, 5, 7}, rad(0.03), {0.1, 0.1}, random);
    EXPECT_EQ(locate(honest.job, hold).heads[0].setups[0].pattern, Pattern::as_declared);
}

TEST(Locate, ReadoutSignsFlipTheNumbersOnly) {
    const std::vector<std::size_t> valves{0, 3, 7};
    std::mt19937_64 random(77);
    const job::Job plain = wedge_job();
    const hold::Hold hold = hold_of(plain, rad(19.5));
    const auto made = simulate(plain, hold, valves, rad(0.05), {0.3, -0.2}, random);
    job::Job flipped = made.job;
    flipped.machine.x_sign = -1;
    for (auto& touch : flipped.readings.touches) touch.at.x() = -touch.at.x();
    const Find a = locate(made.job, hold), b = locate(flipped, hold_of(flipped, rad(19.5)));
    EXPECT_NEAR(a.heads[0].setups[0].yaw, -b.heads[0].setups[0].yaw, 1e-12);
    EXPECT_NEAR(a.heads[0].setups[0].chi2, b.heads[0].setups[0].chi2, 1e-8);
    for (std::size_t v = 0; v < 8; ++v) {
        const FoundGuide &ga = a.heads[0].setups[0].guides[v], &gb = b.heads[0].setups[0].guides[v];
        EXPECT_NEAR(ga.at.x(), -gb.at.x(), 1e-9);
        EXPECT_NEAR(ga.at.y(), gb.at.y(), 1e-9);
        EXPECT_NEAR(*ga.enter_probability, *gb.enter_probability, 1e-9);
    }
}

TEST(Locate, CarryReplacesTheYawPriorAndCountsThreeDegrees) {
    job::Job job = touched_wedge(3, {0, 7});
    const hold::Hold hold = hold_of(job, rad(19.5));
    job.find.carry = job::Carry{{0.3, -0.2}, rad(0.05), 0.1, rad(0.02)};
    const FoundSetup setup = locate(job, hold).heads[0].setups[0];
    EXPECT_EQ(setup.dof, 2 * 2 - 3 + 3);
    job.readings.touches.clear();
    const FoundSetup none = locate(job, hold).heads[0].setups[0];
    EXPECT_FALSE(none.datum_assumed);
    EXPECT_EQ(none.dof, 0);
    EXPECT_FALSE(none.p_value);
    EXPECT_DOUBLE_EQ(none.yaw, rad(0.05));
    EXPECT_NEAR(none.guides[0].at.x(), 0.3, 1e-12);
    EXPECT_NEAR(none.guides[0].covariance(0, 0), 0.01 + 0.08 * 0.08, 1e-12);
}

// Two touches and a yaw prior: each accuses the other, nothing says which is wrong.
TEST(Locate, TwoTouchesThatDisagreeAreBothShown) {
    job::Job job = touched_wedge(10, {0, 7});
    const hold::Hold hold = hold_of(job, rad(19.5));
    EXPECT_FALSE(warned(locate(job, hold), "touches-disagree"));
    job.readings.touches[1].at.x() += 3;
    const Find find = locate(job, hold);
    EXPECT_TRUE(warned(find, "touches-disagree"));
    const FoundSetup& setup = find.heads[0].setups[0];
    EXPECT_TRUE(setup.guides[0].suspect && setup.guides[7].suspect);
    EXPECT_TRUE(setup.set_aside.empty());
}

// Without a yaw prior two touches still foretell how far apart they lie.
TEST(Locate, TwoTouchesTheWrongDistanceApartAreBothShownWithoutAYawPrior) {
    job::Job job = touched_wedge(10, {0, 7});
    job.find.yaw_sd.reset();
    const hold::Hold hold = hold_of(job, rad(19.5));
    const auto setup_of = [&] { return locate(job, hold).heads[0].setups[0]; };
    EXPECT_FALSE(warned(locate(job, hold), "touches-disagree"));
    // Turned about the first touch by any angle they say nothing against each other.
    const Vec2 first = job.readings.touches[0].at, apart = job.readings.touches[1].at - first;
    job.readings.touches[1].at = first + plane_rotation(0.02) * apart;
    EXPECT_FALSE(warned(locate(job, hold), "touches-disagree"));
    // Further apart than the pattern by 1 mm: (1 mm)² over both touches' and castings' variance along the
    // row.
    job.readings.touches[1].at = first + apart * (1 + 1 / apart.norm());
    EXPECT_TRUE(warned(locate(job, hold), "touches-disagree"));
    const FoundSetup setup = setup_of();
    EXPECT_TRUE(setup.guides[0].suspect && setup.guides[7].suspect);
    EXPECT_TRUE(setup.set_aside.empty());
    const auto sum2 = [](double a, double b) { return a * a + b * b; };
    const double variance = sum2(job.find.touch_sd, job.find.casting_sd) * 2;
    const double honest = 3 * job.find.casting_sd;  // what the invented touches may be out by themselves
    EXPECT_NEAR(std::sqrt(*setup.guides[7].innovation2 * variance), 1.0, honest);
    EXPECT_NEAR(*setup.guides[0].innovation2, setup.chi2, 1e-6 * setup.chi2);
}

// A guide that lies elsewhere, touched twice: each touch is foretold by the other, and neither is set aside.
TEST(Locate, TwoTouchesOfOneGuideThatAgreeAreKept) {
    job::Job job = touched_wedge(10, {0, 1, 2, 3, 4, 5, 6, 7});
    const hold::Hold hold = hold_of(job, rad(19.5));
    job.readings.touches[3].at.x() += 0.6;
    const FoundSetup once = locate(job, hold).heads[0].setups[0];
    ASSERT_EQ(once.set_aside, std::vector<std::size_t>{3});
    job.readings.touches.push_back(job.readings.touches[3]);
    job.readings.touches.back().at.y() += 0.02;
    const FoundSetup twice = locate(job, hold).heads[0].setups[0];
    EXPECT_TRUE(twice.set_aside.empty());
    EXPECT_LT((twice.guides[3].at - job.readings.touches[3].at).norm(), 0.1);
}

TEST(Locate, UnlabelledTouchesFindTheirGuides) {
    std::mt19937_64 random(8);
    job::Job job = wedge_job();
    job.find.casting_sd = 0.05;
    const hold::Hold hold = hold_of(job, rad(19.5));
    auto made = simulate(job, hold, {0, 3, 4, 7}, rad(0.03), {0.2, 0.1}, random);
    const Find labelled = locate(made.job, hold);
    for (const std::size_t t : {1U, 3U}) made.job.readings.touches[t].valve = "?";
    const Find find = locate(made.job, hold);
    const FoundSetup& setup = find.heads[0].setups[0];
    ASSERT_EQ(setup.assignments.size(), 2U);
    EXPECT_EQ(setup.assignments[0].valve, 3U);
    EXPECT_EQ(setup.assignments[1].valve, 7U);
    EXPECT_TRUE(setup.guides[3].touched && setup.guides[7].touched);
    EXPECT_NEAR(setup.chi2, labelled.heads[0].setups[0].chi2, 1e-9);
    EXPECT_FALSE(warned(find, "labels-unsure"));
}

// A STOP of a touch without a guide's name holds back what it would place.
TEST(Locate, TouchesThatNoGuideIsSureOfHoldTheHeadBack) {
    const job::Job wedge = wedge_job();
    const hold::Hold hold = hold_of(wedge, rad(19.5));
    const auto held = [](const Find& find) {
        return std::count_if(find.held_back.begin(), find.held_back.end(), [](const HeldBack& entry) {
            return entry.code == HeldCode::fit && entry.head == "9" && !entry.valve &&
                   spoken(entry.reason).find("name no guide") != std::string::npos;
        });
    };
    const auto touch = [](const Vec2& at) {
        job::Touch read;
        read.head = "9";
        read.valve = "?";
        read.at = at;
        return read;
    };
    const auto& valves = hold.setups[0].valves;
    job::Job between = wedge;
    between.readings.touches = {touch((valves[0].readout + valves[1].readout) / 2)};
    const Find either = locate(between, hold);
    EXPECT_TRUE(warned(either, "labels-unsure"));
    EXPECT_EQ(held(either), 1);

    job::Job many = wedge;
    many.readings.touches = {};
    for (std::size_t i = 0; i <= valves.size(); ++i)
        many.readings.touches.push_back(touch(valves[i % valves.size()].readout));
    const Find none = locate(many, hold);
    EXPECT_TRUE(warned(none, "touches-not-labelled"));
    EXPECT_EQ(held(none), 1);
}

TEST(Locate, SymmetricLayoutsAreSaidToBeUndecidable) {
    job::Job job = wedge_job();
    const hold::Hold hold = hold_of(job, rad(19.5));
    const Find find = locate(job, hold);
    EXPECT_TRUE(find.heads[0].setups[0].pattern_undecidable);
    EXPECT_NE(spoken(find.heads[0].setups[0].alike).find("end for end"), std::string::npos);
    for (auto& valve : job.head.valves)
        if (valve.cylinder == 1) valve.seat += Vec3(5, 3, 0);
    EXPECT_FALSE(locate(job, hold_of(job, rad(19.5))).heads[0].setups[0].pattern_undecidable);
}

bool asks_way_round(const Find& find) {
    return std::any_of(find.held_back.begin(), find.held_back.end(), [](const HeldBack& held) {
        return held.code == HeldCode::doubt &&
               spoken(held.frees).find("head.lies = as declared") != std::string::npos;
    });
}

// Upright guides in one row, intake and exhaust by turns: end for end it looks the same and takes the same
// pilots, with each intake seat where an exhaust seat is taken to be. Somebody has to look, once.
TEST(Locate, AHeadThatMayLieEndForEndIsAskedAbout) {
    job::Job job = wedge_job(4, 112, 0);
    const auto found = [&] { return locate(job, hold_of(job, 0)); };
    Find find = found();
    EXPECT_TRUE(asks_way_round(find));
    EXPECT_TRUE(warned(find, "doubt"));
    job.sure = {{"head.lies = as declared", 3}};
    EXPECT_FALSE(asks_way_round(found()));
    job.sure = {{"head.lies = end for end", 3}};
    EXPECT_TRUE(asks_way_round(found()));
    job.sure.clear();
    // E I, I E, …: end for end every seat has its own kind again.
    for (auto& valve : job.head.valves)
        if (valve.cylinder % 2 == 0) valve.seat.x() = 2 * 112.0 * (valve.cylinder - 1) - valve.seat.x();
    std::sort(job.head.valves.begin(), job.head.valves.end(),
              [](const auto& a, const auto& b) { return a.seat.x() < b.seat.x(); });
    EXPECT_TRUE(found().heads[0].setups[0].pattern_undecidable);
    EXPECT_FALSE(asks_way_round(found()));
    // Leaning guides lean the other way then: no pilot would have gone in.
    job = wedge_job(4, 112, 19.5);
    EXPECT_FALSE(asks_way_round(locate(job, hold_of(job, rad(19.5)))));
}

}  // namespace
}  // namespace seatwright::find
