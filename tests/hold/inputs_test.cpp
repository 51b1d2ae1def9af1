// Where the figures hold stands on came from, and that a made-up one stops the program.
#include "seatwright/hold/inputs.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "job_fixtures.hpp"
#include "spoken.hpp"

namespace seatwright::hold {
namespace {

const Input* find(const Hold& hold, const std::string& what) {
    const auto at = std::find_if(hold.inputs.begin(), hold.inputs.end(),
                                 [&](const Input& input) { return input.what == what; });
    return at == hold.inputs.end() ? nullptr : &*at;
}

TEST(HoldInputs, EachFigureWithItsUnitAndWhereItCameFrom) {
    auto job = fixtures::wedge_job();
    job.fixture_of_shelf = true;
    const Hold held = plan(job);
    ASSERT_TRUE(find(held, "head.mass"));
    EXPECT_EQ(find(held, "head.mass")->value, 21);
    EXPECT_STREQ(find(held, "head.mass")->unit, "kg");
    EXPECT_EQ(find(held, "head.mass")->from, From::job);
    ASSERT_TRUE(find(held, "head.valve.2I.incline"));
    EXPECT_NEAR(find(held, "head.valve.2I.incline")->value, 19.5, 1e-12);
    EXPECT_EQ(find(held, "head.bolt_holes[9].y")->value, 50);
    EXPECT_EQ(find(held, "guide.intake.bore")->value, 8.73);
    EXPECT_EQ(find(held, "fixture.post_diameter")->from, From::shelf);
    EXPECT_EQ(find(held, "machine.travel_x")->from, From::job);
    EXPECT_TRUE(held.held_back.empty());
    job.head.mass.reset();
    EXPECT_FALSE(find(plan(job), "head.mass")) << "a figure that is not there is not made up";
}

TEST(HoldInputs, AMadeUpFigureHoldsTheHeadBack) {
    auto job = fixtures::wedge_job();
    job.head.assumed = {"head.bolt_holes", "guide.intake.bore", "head.name"};
    const Hold held = plan(job);
    EXPECT_EQ(find(held, "head.bolt_holes[0].x")->from, From::made_up);
    EXPECT_STREQ(word_of(From::made_up), "default");
    EXPECT_EQ(find(held, "head.bolt_hole_diameter")->from, From::job);
    ASSERT_EQ(held.held_back.size(), 1u);
    EXPECT_EQ(held.held_back[0].code, HeldCode::not_from_you);
    EXPECT_FALSE(held.held_back[0].valve);
    const auto said = std::find_if(held.warnings.begin(), held.warnings.end(),
                                   [](const Warning& w) { return w.code == "not-from-you"; });
    ASSERT_NE(said, held.warnings.end());
    EXPECT_EQ(said->severity, Severity::blocking);
    EXPECT_NE(spoken(said->text).find("bolt holes and guide bores"), std::string::npos) << spoken(said->text);
    job.head.assumed = {"find.touch_sd", "depth.step"};  // of common practice: no program is wrong by them
    EXPECT_TRUE(plan(job).held_back.empty());
}

// What a program is cut by holds it back though hold itself does not stand on it.
TEST(HoldInputs, AMadeUpGuideOrSeatHoldsTheHeadBackToo) {
    auto job = fixtures::wedge_job();
    for (const char* key : {"seat.intake.width", "guide.exhaust.to_seat", "valve.intake.head_diameter"}) {
        job.head.assumed = {key};
        const Hold held = plan(job);
        ASSERT_EQ(held.held_back.size(), 1u) << key;
        EXPECT_EQ(held.held_back[0].code, HeldCode::not_from_you) << key;
    }
    job.head.assumed = {"guide.intake.length", "guide.intake.bore", "seat.intake.width"};
    const std::string said = spoken(plan(job).held_back[0].reason);
    EXPECT_NE(said.find("guide bores, guides and seats"), std::string::npos) << said;
}

}  // namespace
}  // namespace seatwright::hold
