// Touches the machinist stands by: what is true of them follows from the same head with the touch left out.
#include "seatwright/find/stood_by.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "find_fixtures.hpp"
#include "seatwright/base/numerics/disc_probability.hpp"
#include "spoken.hpp"

namespace seatwright::find {
namespace {

bool warned_of(const Find& find, const std::string& code) {
    return std::any_of(find.warnings.begin(), find.warnings.end(),
                       [&](const Warning& w) { return w.code == code; });
}

struct Moved {
    job::Job with, without;  // touch 2, of valve 4, stands 2 mm off its pattern; left out
    hold::Hold hold;
    Vec2 at;
};

Moved moved_guide(std::optional<double> sd) {
    std::mt19937_64 random(41);
    const job::Job job = fixtures::wedge_job();
    Moved moved{{}, {}, fixtures::hold_of(job, rad(19.5)), {}};
    moved.with = fixtures::simulate(job, moved.hold, {0, 2, 4, 6, 7}, rad(0.05), {0.3, -0.2}, random).job;
    job::Touch& touch = moved.with.readings.touches[2];
    touch.at += Vec2(1.6, -1.2);
    touch.sd = sd;
    moved.at = touch.at;
    moved.without = moved.with;
    moved.without.readings.touches.erase(moved.without.readings.touches.begin() + 2);
    return moved;
}

TEST(StoodBy, PlacesItsOwnGuideAndLeavesTheOthersAlone) {
    for (const std::optional<double> sd : {std::optional<double>{}, std::optional<double>{0.05}}) {
        Moved moved = moved_guide(sd);
        EXPECT_TRUE(warned_of(locate(moved.with, moved.hold), "suspect-touch"));
        moved.with.readings.touches[2].keep = true;
        const Find find = locate(moved.with, moved.hold);
        const Find rest = locate(moved.without, moved.hold);
        EXPECT_FALSE(warned_of(find, "suspect-touch"));
        const FoundSetup &own = find.heads[0].setups[0], &other = rest.heads[0].setups[0];
        EXPECT_TRUE(own.set_aside.empty());
        EXPECT_EQ(own.dof, other.dof);
        EXPECT_DOUBLE_EQ(own.chi2, other.chi2);
        EXPECT_DOUBLE_EQ(own.yaw, other.yaw);
        EXPECT_DOUBLE_EQ(own.yaw_sd, other.yaw_sd);
        const double own_sd = sd.value_or(moved.with.find.touch_sd);
        for (std::size_t v = 0; v < 8; ++v) {
            const FoundGuide& guide = own.guides[v];
            EXPECT_FALSE(guide.suspect);
            if (v != 4) {
                EXPECT_NEAR((guide.at - other.guides[v].at).norm(), 0, 1e-12);
                EXPECT_NEAR((guide.covariance - other.guides[v].covariance).norm(), 0, 1e-15);
                EXPECT_NEAR(*guide.enter_probability, *other.guides[v].enter_probability, 1e-9);
                continue;
            }
            EXPECT_TRUE(guide.touched && guide.placed);
            EXPECT_NEAR((guide.at - moved.at).norm(), 0, 1e-8);
            EXPECT_NEAR((guide.covariance - own_sd * own_sd * Mat2::Identity()).norm(), 0, 1e-9);
            EXPECT_GT(*guide.innovation2, 13.8);  // still said: beyond −2·ln(0.001)
            const double noise = own_sd * own_sd + std::pow(moved.with.find.positioning_sd, 2);
            EXPECT_NEAR(
                *guide.enter_probability,
                numerics::disc_probability(guide.at - guide.programmed, noise * Mat2::Identity(), 0.55),
                1e-9);
        }
        EXPECT_TRUE(std::any_of(find.assumptions.begin(), find.assumptions.end(), [](const Sentence& line) {
            return spoken(line).find("machinist's word") != std::string::npos;
        }));
    }
}

// Of two touches of one guide the one stood by places it; the other, which no longer agrees, is set aside.
TEST(StoodBy, OutweighsAnEarlierTouchOfItsGuide) {
    Moved moved = moved_guide({});
    moved.with.readings.touches.push_back(moved.with.readings.touches[2]);
    moved.with.readings.touches[2].at += Vec2(3, 0);  // a chip
    moved.with.readings.touches[5].keep = true;
    const Find find = locate(moved.with, moved.hold);
    const FoundSetup& setup = find.heads[0].setups[0];
    EXPECT_EQ(setup.set_aside, std::vector<std::size_t>{2});
    EXPECT_NEAR((setup.guides[4].at - moved.at).norm(), 0, 1e-8);
}

// With no yaw prior one other touch leaves the yaw open: then the word of the touch stood by is all there is.
TEST(StoodBy, TakesPartWhereTheOthersDoNotSayHowTheSetupLies) {
    std::mt19937_64 random(42);
    job::Job job = fixtures::wedge_job();
    const hold::Hold hold = fixtures::hold_of(job, rad(19.5));
    job = fixtures::simulate(job, hold, {0, 7}, rad(0.05), {0.3, -0.2}, random).job;
    job.find.yaw_sd.reset();
    const Find plain = locate(job, hold);
    job.readings.touches[1].keep = true;
    const Find find = locate(job, hold);
    const FoundSetup &own = find.heads[0].setups[0], &other = plain.heads[0].setups[0];
    EXPECT_TRUE(own.yaw_known);
    EXPECT_DOUBLE_EQ(own.yaw, other.yaw);
    EXPECT_EQ(own.dof, other.dof);
    for (std::size_t v = 0; v < 8; ++v) EXPECT_EQ(own.guides[v].at, other.guides[v].at);
}

// Two touches that accuse each other are undecidable, until a person stands by one of them.
TEST(StoodBy, SettlesTwoTouchesThatDisagree) {
    std::mt19937_64 random(43);
    job::Job job = fixtures::wedge_job();
    const hold::Hold hold = fixtures::hold_of(job, rad(19.5));
    job = fixtures::simulate(job, hold, {1, 6}, rad(0.05), {0.3, -0.2}, random).job;
    job.readings.touches[1].at += Vec2(2.5, 0);
    EXPECT_TRUE(warned_of(locate(job, hold), "touches-disagree"));
    job.readings.touches[1].keep = true;
    const Find find = locate(job, hold);
    EXPECT_FALSE(warned_of(find, "touches-disagree"));
    EXPECT_NEAR((find.heads[0].setups[0].guides[6].at - job.readings.touches[1].at).norm(), 0, 1e-8);
}

// What heads teach of their casting is the same as if the moved guide had not been touched.
TEST(StoodBy, TeachesNothingOfTheCasting) {
    std::mt19937_64 random(44);
    job::Job job = fixtures::wedge_job();
    const hold::Hold hold = fixtures::hold_of(job, rad(19.5));
    job.find.learn_min_heads = 3;
    for (int head = 1; head <= 8; ++head)
        job = fixtures::simulate(std::move(job), hold, {0, 1, 2, 4, 6, 7}, rad(0.02), {0.1, 0.1}, random,
                                 std::to_string(head))
                  .job;
    for (const std::size_t head : {std::size_t{1}, std::size_t{6}}) {  // before anything is learned and after
        job::Job with = job, without = job;
        const auto at = static_cast<std::ptrdiff_t>(6 * head + 3);
        with.readings.touches[static_cast<std::size_t>(at)].at += Vec2(1.5, 1);
        with.readings.touches[static_cast<std::size_t>(at)].keep = true;
        without.readings.touches.erase(without.readings.touches.begin() + at);
        const Find own = locate(with, hold), other = locate(without, hold);
        ASSERT_FALSE(other.learned.empty());
        ASSERT_EQ(own.learned.size(), other.learned.size());
        for (std::size_t v = 0; v < own.learned.size(); ++v) {
            EXPECT_EQ(own.learned[v].mean, other.learned[v].mean);
            EXPECT_EQ(own.learned[v].scatter, other.learned[v].scatter);
        }
    }
}

}  // namespace
}  // namespace seatwright::find
