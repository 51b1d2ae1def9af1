// What find keeps out of a program (working.md), on heads built by hand.
#include "seatwright/find/held.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "find_fixtures.hpp"
#include "spoken.hpp"

namespace seatwright::find {
namespace {

using fixtures::hold_of;
using fixtures::simulate;
using fixtures::wedge_job;

struct Made {
    job::Job job;
    hold::Hold hold;
    Find find() const { return locate(job, hold); }
};

Made touched(unsigned seed, const std::vector<std::size_t>& valves) {
    std::mt19937_64 random(seed);
    Made made;
    made.job = wedge_job();
    made.hold = hold_of(made.job, rad(19.5));
    made.job = simulate(made.job, made.hold, valves, rad(0.05), {0.3, -0.2}, random).job;
    return made;
}

std::size_t count(const Find& find, HeldCode code) {
    return static_cast<std::size_t>(std::count_if(find.held_back.begin(), find.held_back.end(),
                                                  [&](const HeldBack& held) { return held.code == code; }));
}

TEST(FindHeld, NothingWhereTheTouchesAgreeAndAreEnough) {
    EXPECT_TRUE(touched(5, {0, 3, 7}).find().held_back.empty());
}

// Typed 1.508 for 15.08, and the like: that valve is held back by name, the others go.
TEST(FindHeld, OneSuspectTouchHoldsItsOwnValve) {
    Made made = touched(10, {0, 2, 4, 6, 7});
    made.job.readings.touches[2].at += Vec2(1.6, -1.2);
    const Find find = made.find();
    ASSERT_EQ(find.held_back.size(), 1U);
    const HeldBack& held = find.held_back.front();
    EXPECT_EQ(held.code, HeldCode::suspect);
    EXPECT_EQ(held.valve, made.job.readings.touches[2].valve);
    EXPECT_NE(spoken(held.frees).find("again"), std::string::npos);
    // Touched again, and right this time, in the place of the wrong one.
    Made again = made;
    again.job.readings.touches[2] = touched(10, {0, 2, 4, 6, 7}).job.readings.touches[2];
    EXPECT_TRUE(again.find().held_back.empty());
    // Or by the machinist's word.
    made.job.readings.touches[2].keep = true;
    EXPECT_EQ(count(made.find(), HeldCode::suspect), 0U);
}

// The older one goes with the others and the newer one does not: a guide re-bored since, or a slip. Nobody
// has said which, so nothing is cut at the place of either.
TEST(FindHeld, TwoTouchesOfAGuideThatDisagreeHoldItThoughOneIsKept) {
    Made made = touched(10, {0, 2, 4, 6, 7});
    job::Touch newer = made.job.readings.touches[2];
    const Vec2 older_at = newer.at;
    newer.at += Vec2(1.6, -1.2);
    made.job.readings.touches.push_back(newer);
    const Find find = made.find();
    ASSERT_EQ(find.heads[0].setups[0].set_aside, std::vector<std::size_t>{5});
    ASSERT_EQ(find.held_back.size(), 1U);
    const HeldBack& held = find.held_back.front();
    EXPECT_EQ(held.code, HeldCode::suspect);
    EXPECT_EQ(held.valve, newer.valve);
    for (const Vec2& at : {older_at, newer.at})
        EXPECT_NE(spoken(held.reason).find(fmt::format("{:.3f} mm, {:.3f} mm", at.x(), at.y())),
                  std::string::npos)
            << spoken(held.reason);
    EXPECT_NE(spoken(held.frees).find("remove the wrong one"), std::string::npos) << spoken(held.frees);

    // A third that goes with the one that is kept settles it.
    Made settled = made;
    settled.job.readings.touches.push_back(settled.job.readings.touches[2]);
    settled.job.readings.touches.back().at += Vec2(0.01, 0.01);
    EXPECT_TRUE(settled.find().held_back.empty());
    // So does the wrong one removed, or a word for either.
    Made removed = made;
    removed.job.readings.touches.erase(removed.job.readings.touches.begin() + 2);
    EXPECT_EQ(count(removed.find(), HeldCode::suspect), 1U) << "the one that is left does not fit";
    removed = made;
    removed.job.readings.touches.pop_back();
    EXPECT_TRUE(removed.find().held_back.empty());
    for (const std::size_t right : {2U, 5U}) {
        Made word = made;
        word.job.readings.touches[right].keep = true;
        EXPECT_EQ(count(word.find(), HeldCode::suspect), 0U);
    }
}

// What is settled is judged by its chance like any other guide.
TEST(FindHeld, AGuideSettledByAThirdTouchIsStillAskedForItsChance) {
    Made made = touched(10, {0, 2, 4, 6, 7});
    for (const Vec2& off : {Vec2(1.6, -1.2), Vec2(0.01, 0.01)}) {
        made.job.readings.touches.push_back(made.job.readings.touches[2]);
        made.job.readings.touches.back().at += off;
    }
    made.job.cut.enter_min = 2;  // more than any chance is
    const std::string& valve = made.job.readings.touches[2].valve;
    const Find find = made.find();
    EXPECT_TRUE(std::any_of(find.held_back.begin(), find.held_back.end(), [&](const HeldBack& held) {
        return held.code == HeldCode::touch_first && held.valve == valve;
    }));
}

// Two guides whose own touches disagree: the head may have moved between them.
TEST(FindHeld, TwoGuidesTouchedTwiceHoldTheSetup) {
    Made made = touched(10, {0, 1, 2, 4, 5, 6, 7});
    for (const std::size_t of : {2U, 4U}) {
        made.job.readings.touches.push_back(made.job.readings.touches[of]);
        made.job.readings.touches.back().at += Vec2(1.6, -1.2);
    }
    const Find find = made.find();
    ASSERT_EQ(find.held_back.size(), 1U);
    EXPECT_FALSE(find.held_back.front().valve);
}

TEST(FindHeld, TwoSuspectTouchesHoldTheSetup) {
    Made made = touched(10, {0, 1, 2, 4, 5, 6, 7});
    made.job.readings.touches[2].at += Vec2(1.6, -1.2);
    made.job.readings.touches[4].at += Vec2(-2.1, 0.9);
    const Find find = made.find();
    ASSERT_EQ(find.held_back.size(), 1U);
    EXPECT_EQ(find.held_back.front().code, HeldCode::suspect);
    EXPECT_FALSE(find.held_back.front().valve);
}

TEST(FindHeld, AHeadProvenTheWrongWayRoundHoldsTheSetup) {
    Made made = touched(5, {0, 2, 5, 7});
    // The touches of the head turned end for end: each reading is that of the mirrored place.
    const auto& valves = made.hold.setups[0].valves;
    const double low = valves.front().readout.x(), high = valves.back().readout.x();
    for (auto& touch : made.job.readings.touches) touch.at.x() = low + high - touch.at.x();
    const Find find = made.find();
    ASSERT_FALSE(find.held_back.empty());
    EXPECT_FALSE(find.held_back.front().valve);
    EXPECT_TRUE(find.held_back.front().code == HeldCode::way_round ||
                find.held_back.front().code == HeldCode::fit);
}

TEST(FindHeld, NothingTouchedAndNoYawKnownIsAGuess) {
    Made made = touched(5, {});
    made.job.readings.touches.clear();
    made.job.find.yaw_sd.reset();
    const Find find = made.find();
    EXPECT_EQ(count(find, HeldCode::touch_first), made.hold.setups[0].valves.size() - 1);  // but the datum's
}

TEST(FindHeld, AChanceBelowTheLeastNamesTheGuideToTouchAndTheChanceThen) {
    Made made = touched(5, {0, 7});
    made.job.find.casting_sd = 0.25;
    const Find find = made.find();
    ASSERT_GT(count(find, HeldCode::touch_first), 0U);
    for (const HeldBack& held : find.held_back)
        EXPECT_NE(spoken(held.frees).find("touch " + *held.valve), std::string::npos) << spoken(held.frees);
    made.job.cut.enter_min = 0.5;
    EXPECT_TRUE(made.find().held_back.empty());
    made.job.cut.enter_min.reset();
    made.job.cut.pilot = job::PilotUse::planted;  // put in by hand
    EXPECT_TRUE(made.find().held_back.empty());
}

TEST(FindHeld, TheLeastChanceIsLowerWhereAPersonGuidesTheTip) {
    job::Job job;
    EXPECT_EQ(enter_min_of(job), 0.99);
    job.machine.tool_float = job::Float{job::Float::Kind::commanded, "hand", "hand", "self"};
    EXPECT_EQ(enter_min_of(job), 0.90);
    job.cut.enter_min = 0.999;
    EXPECT_EQ(enter_min_of(job), 0.999);
}

// Isotropic and centred: 1 − exp(−c²/2σ²) with 1/σ² = 1/s² + 1/t², the closed form of model.md.
TEST(FindHeld, ChanceWhenTouchedIsTheClosedForm) {
    FoundGuide guide;
    guide.covariance = Mat2::Identity() * (0.3 * 0.3);
    guide.entry_clearance = 0.05;
    const double variance = 1 / (1 / (0.3 * 0.3) + 1 / (0.02 * 0.02)) + 0.005 * 0.005;
    EXPECT_NEAR(chance_when_touched(guide, 0.02, 0.005), 1 - std::exp(-0.05 * 0.05 / (2 * variance)), 1e-9);
}

}  // namespace
}  // namespace seatwright::find
