// The walk of a head, against working.md's order: load, touch, each cutter's first file, Z0, first seat,
// second file, cut; the next setup; measured; finished. Steps that do not apply are not there.
#include "seatwright/plan/walk.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <set>

#include "first_read.hpp"
#include "job_fixtures.hpp"
#include "spoken.hpp"

namespace seatwright::plan {
namespace {

using Kind = WalkStep::Kind;

// The invented heads, every guide touched where it lies, as far as the setups go.
job::Job touched(job::Job job, std::size_t setups = 9) {
    const hold::Hold held = hold::plan(job);
    for (std::size_t s = 0; s < std::min(setups, held.setups.size()); ++s)
        for (const auto& valve : held.setups[s].valves)
            job.readings.touches.push_back({.valve = job.head.valves[valve.valve].id, .at = valve.readout});
    return fixtures::with_guides_read(std::move(job));
}

std::vector<WalkStep> walk(const job::Job& job) {
    return walk_of(job, make_plan(job), "1");
}

std::vector<std::string> ids(const std::vector<WalkStep>& steps) {
    std::vector<std::string> out;
    out.reserve(steps.size());
    for (const auto& step : steps) out.push_back(step.id);
    return out;
}

const WalkStep& step(const std::vector<WalkStep>& steps, const std::string& id) {
    for (const auto& step : steps)
        if (step.id == id) return step;
    ADD_FAILURE() << "no step " << id;
    return steps.front();
}

// The first that is not done.
std::string now(const std::vector<WalkStep>& steps) {
    for (const auto& step : steps)
        if (!step.done) return step.id;
    return "";
}

using Ids = std::vector<std::string>;
const Ids two_cutters{"load A",   "touch A", "take A 1 first", "zero A 1", "first A 1",
                      "take A 1", "cut A 1", "take A 2 first", "zero A 2", "first A 2",
                      "take A 2", "cut A 2", "measure",        "finished"};

TEST(Walk, OneSetupTwoCuttersInOrder) {
    const auto steps = walk(touched(fixtures::wedge_job()));
    EXPECT_EQ(ids(steps), two_cutters);
    EXPECT_EQ(now(steps), "take A 1 first");
    EXPECT_FALSE(step(steps, "take A 1 first").file.empty());
    EXPECT_TRUE(step(steps, "take A 1").file.empty()) << "the second file is written after the reading";
    EXPECT_FALSE(step(steps, "zero A 1").ways.empty());
    EXPECT_EQ(step(steps, "cut A 1").valves.size(), 4u);
    EXPECT_EQ(step(steps, "first A 1").valves.size(), 1u);
    EXPECT_TRUE(spoken(step(steps, "take A 2 first").words).starts_with("Change to cutter 2 "));
}

// A file taken before is an old one when what it does has changed, not when a comment has.
TEST(Walk, AFileIsKnownByWhatItDoes) {
    const job::Job job = touched(fixtures::wedge_job());
    const auto moves = [](const job::Job& of) { return step(walk(of), "take A 1 first").moves; };
    EXPECT_EQ(moves(job).size(), 8u);
    job::Job renamed = job;
    renamed.title = "another title";
    EXPECT_EQ(moves(renamed), moves(job));
    job::Job faster = job;
    faster.cut.enter_feed = 4;
    EXPECT_NE(moves(faster), moves(job));
    EXPECT_EQ(step(walk(job), "take A 1").moves, "") << "not written yet";
}

TEST(Walk, UntouchedItBeginsWithLoading) {
    auto job = touched(fixtures::wedge_job());
    job.readings.touches.clear();
    const auto steps = walk(job);
    EXPECT_EQ(now(steps), "load A");
    EXPECT_EQ(spoken(steps.front().words), "Load head 1 and set tilt 19.50 deg.");
}

TEST(Walk, TheFirstSeatsReadingBringsTheSecondFile) {
    auto job = touched(fixtures::wedge_job());
    const auto before = walk(job);
    const WalkStep& first = step(before, "first A 1");
    ASSERT_EQ(first.valves.size(), 1u);
    const auto plan = make_plan(job);
    const std::size_t valve = first.valves.front();
    job.readings.firsts.push_back(
        {.valve = job.head.valves[valve].id,
         .depth = plan.shape.seats.at(valve).depth.value_or(0) - job.cut.first_short});
    const auto steps = walk(job);
    EXPECT_EQ(ids(steps), two_cutters) << "the list stays while the plan changes";
    EXPECT_EQ(now(steps), "take A 1");
    EXPECT_FALSE(step(steps, "take A 1").file.empty());
}

TEST(Walk, WhatDoesNotApplyIsNotThere) {
    auto job = touched(fixtures::wedge_job());
    job.cut.first_stop = false;
    job.depth.cleanup_margin = 0.10;  // Z is well enough known without the stop
    EXPECT_EQ(ids(walk(job)), (Ids{"load A", "touch A", "take A 1", "zero A 1", "cut A 1", "take A 2",
                                   "zero A 2", "cut A 2", "measure", "finished"}));
    job.machine.runs = job::Runs::hand;
    EXPECT_EQ(ids(walk(job)), (Ids{"load A", "touch A", "zero A 1", "cut A 1", "zero A 2", "cut A 2",
                                   "measure", "finished"}));
    job.machine.runs = job::Runs::file;
    job.cut.first_stop = true;
    job.machine.trim = job::TrimAt::control;
    EXPECT_EQ(ids(walk(job)), (Ids{"load A", "touch A", "take A 1", "zero A 1", "first A 1", "cut A 1",
                                   "take A 2", "zero A 2", "first A 2", "cut A 2", "measure", "finished"}));
}

TEST(Walk, TwoSetupsOneAfterTheOther) {
    const auto steps = walk(touched(fixtures::pent_roof_job(), 1));
    std::vector<std::string> setups;
    for (const auto& step : steps)
        if (step.kind == Kind::load) setups.push_back(spoken(step.words));
    ASSERT_EQ(setups.size(), 2u);
    EXPECT_TRUE(setups[0].starts_with("Load head 1 and set setup A: tilt ")) << setups[0];
    EXPECT_TRUE(setups[1].starts_with("Setup A is done. Turn to setup B: tilt ")) << setups[1];
    EXPECT_TRUE(step(steps, "load A").done);
    EXPECT_FALSE(step(steps, "load B").done);
    std::set<std::string> once;
    for (const auto& step : steps) EXPECT_TRUE(once.insert(step.id).second) << step.id << " twice";
}

// Touched in both setups before anything is cut, the fixture stands in B: it comes back to A first.
TEST(Walk, AHeadTouchedInAllSetupsIsTurnedBackToTheFirst) {
    auto job = touched(fixtures::pent_roof_job(), 2);
    for (const auto& valve : job.head.valves)
        job.readings.seats.push_back({.valve = valve.id, .recession = 0.2, .cleanup = 0.1});
    const auto steps = walk(job);
    EXPECT_EQ(now(steps), "back A");
    EXPECT_NE(spoken(step(steps, "back A").words).find("Turn back to setup A: tilt "), std::string::npos)
        << spoken(step(steps, "back A").words);
    EXPECT_FALSE(step(steps, "load B").done) << "A is to be cut before";
    // A's first seats are read: it was cut, and the head turned on.
    job.readings.firsts.push_back(fixtures::firsts_as_planned(make_plan(job)).at(0));
    const auto later = walk(job);
    const Ids names = ids(later);
    EXPECT_EQ(std::count(names.begin(), names.end(), "back A"), 0);
    EXPECT_TRUE(step(later, "load B").done);
}

// A seat measured counts as cut, so that no file is made of the rest: its steps stay.
TEST(Walk, StepsStayWhileTheHeadIsMeasured) {
    auto job = touched(fixtures::wedge_job());
    const auto before = ids(walk(job));
    for (const auto* id : {"1I", "2I", "1E"}) job.readings.firsts.push_back({.valve = id, .depth = 0.1});
    for (const auto& valve : job.head.valves) {
        job.readings.proofs.push_back({.valve = valve.id, .runout = 0.01});
        const auto steps = walk(job);
        for (const auto& id : ids(steps))
            EXPECT_NE(std::find(before.begin(), before.end(), id), before.end())
                << id << " after " << valve.id;
        for (const auto* kept : {"cut A 1", "cut A 2"})
            EXPECT_EQ(step(steps, kept).kind, Kind::cut) << valve.id;
    }
}

TEST(Walk, WhatIsHeldBackIsAStepOfItsOwnAndAHeadMeasuredThroughIsFinished) {
    auto job = touched(fixtures::wedge_job());
    job.readings.touches.clear();
    for (const auto kind : job::both_kinds) job.seat[kind]->old_as_drawn = false;
    EXPECT_EQ(step(walk(job), "held A").kind, Kind::held);
    for (const auto& valve : job.head.valves)
        job.readings.proofs.push_back({.valve = valve.id, .runout = 0.01});
    EXPECT_EQ(now(walk(job)), "finished");
}

}  // namespace
}  // namespace seatwright::plan
