// The five lines of a plan: a stage that waits for a person says so.
#include "seatwright/report/brief.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "job_fixtures.hpp"
#include "seatwright/papers/bundle.hpp"
#include "spoken.hpp"

namespace seatwright::papers {
namespace {

using namespace report;

StageLine cut_line_of(const job::Job& job) {
    const auto plan = plan::make_plan(job);
    const auto lines = brief(job, plan, prove::judge(job), {LengthUnit::mm}, plan.shape.head);
    return *std::find_if(lines.begin(), lines.end(),
                         [](const StageLine& line) { return line.stage == "cut"; });
}

TEST(Brief, CutSaysWhatIsHeldBackEvenIfNoSeatIsPlanned) {
    auto job = fixtures::wedge_job();
    for (const auto kind : job::both_kinds) job.seat[kind]->old_as_drawn = false;
    const StageLine line = cut_line_of(job);
    EXPECT_EQ(line.state, StageState::open) << "it waits for the readings of the seats";
    EXPECT_NE(line.answer.find("held back"), std::string::npos) << line.answer;
    EXPECT_FALSE(line.next.empty());
    EXPECT_EQ(line.answer.find("checked"), std::string::npos) << line.answer;
}

// A plan to a finished height needs no old seat read: its seats are cut all the same.
TEST(Brief, SeatsPlannedToAHeightAreNotCalledNone) {
    auto job = fixtures::wedge_job();
    job.readings.seats = {};
    for (const auto kind : job::both_kinds) {
        job.seat[kind]->old_as_drawn = false;
        job.seat[kind]->finish = job::Finish{std::nullopt, std::nullopt, 0.4};
    }
    job.depth.to = job::DepthTo::height;
    job.depth.from = job::DepthFrom::deck;
    const auto plan = plan::make_plan(job);
    const auto line = brief(job, plan, prove::judge(job), {LengthUnit::mm}, plan.shape.head)[2];
    EXPECT_EQ(line.stage, "shape");
    EXPECT_EQ(line.answer.find("No seat to cut"), std::string::npos) << line.answer;
    EXPECT_NE(line.answer.find("8 seats to the finished height"), std::string::npos) << line.answer;
    EXPECT_EQ(line.next.find("Measure stem height"), std::string::npos) << line.next;
}

TEST(Brief, CutNeedsYouWhileOneValveIsHeldBack) {
    auto job = fixtures::wedge_job();
    job.readings.guides.push_back({.valve = "3I", .top = 8.95, .middle = 8.90, .bottom = 8.95});
    job.guide.intake->bore_max = 8.83;
    EXPECT_EQ(cut_line_of(job).state, StageState::needs_you);
}

// While touches and readings are still to come there is nothing in cut that a person could do.
TEST(Brief, CutWaitsWhileTheHeadIsBeingMeasured) {
    auto job = fixtures::wedge_job();
    const auto touches = job.readings.touches;
    job.readings.touches.clear();
    EXPECT_NE(cut_line_of(job).state, StageState::needs_you) << "nothing is touched";
    for (const auto kind : job::both_kinds) job.seat[kind]->old_as_drawn = false;
    EXPECT_EQ(cut_line_of(job).state, StageState::open) << "nothing is read";
    job.readings.touches = touches;
    EXPECT_EQ(cut_line_of(job).state, StageState::open) << "no seat is read";
    job.seat.intake->old_as_drawn = true;
    EXPECT_EQ(cut_line_of(job).state, StageState::open) << "the exhausts are to be read";
}

// A STOP beside readings that lack is somebody's to put right now.
TEST(Brief, CutDoesNotWaitWhereAStopStandsBesideWhatLacks) {
    auto job = fixtures::wedge_job();
    job.seat.exhaust->old_as_drawn = false;
    const auto planned = plan::make_plan(job);
    const auto state = [&](cut::Cut cut) {
        const plan::Plan plan(
            planned.shape.head, {}, {},
            {std::make_shared<hold::Hold>(planned.hold), std::make_shared<find::Find>(planned.find),
             std::make_shared<shape::Shape>(planned.shape), std::make_shared<cut::Cut>(std::move(cut))});
        return brief(job, plan, prove::judge(job), {LengthUnit::mm}, plan.shape.head)[3].state;
    };
    EXPECT_EQ(state(planned.cut), StageState::open);
    cut::Cut stopped = planned.cut;
    stopped.warnings.push_back(
        {"cut", "names-alike", std::nullopt, saying("two files of one name"), Severity::blocking});
    EXPECT_EQ(state(stopped), StageState::needs_you);
}

// The chances of a blind run are reckoned from the heads before: nobody has done anything of this one.
TEST(Brief, FindIsNotDoneOfAHeadThatNobodyTouched) {
    const auto job = fixtures::wedge_job();
    const auto of = [&](bool touched) {
        find::FoundSetup setup;
        setup.id = "A";
        setup.least_enter_probability = 0.9999;
        setup.guides.emplace_back();
        setup.guides.back().touched = touched;
        find::FoundHead found;
        found.head = "9";
        found.setups.push_back(setup);
        auto find = std::make_shared<find::Find>();
        find->heads.push_back(found);
        plan::Results results;
        results.find = find;
        return brief(job, plan::Plan("9", {}, {}, results), prove::judge(job), {LengthUnit::mm}, "9")[1];
    };
    EXPECT_EQ(of(false).state, StageState::ready) << of(false).answer;
    EXPECT_EQ(of(true).state, StageState::done) << of(true).answer;
}

// Seats that all pass in a head whose stems stand too far apart are not the end of it.
TEST(Brief, StemsTooFarApartNeedYou) {
    auto job = fixtures::wedge_job(2);
    job.depth.stem_spread = 0.3;
    for (const auto& v : job.head.valves) {
        job::SeatAfter r;
        r.head = "1";
        r.valve = v.id;
        r.runout = 0.01;
        r.width = {1.5};
        r.gauge_u = 0.001;
        r.stem_height = v.id == "1I" ? 47.6 : 48.0;
        job.readings.proofs.push_back(std::move(r));
    }
    const auto plan = plan::make_plan(job);
    const auto line = brief(job, plan, prove::judge(job), {LengthUnit::mm}, plan.shape.head).back();
    EXPECT_EQ(line.stage, "prove");
    EXPECT_EQ(line.state, StageState::needs_you);
}

// A plan whose seats could not be judged is a plan; nothing says that nothing was measured.
TEST(Brief, WhatStoppedProveIsSaidInThePlan) {
    const auto job = fixtures::wedge_job();
    const auto plan = plan::make_plan(job);
    const auto good = plan_bundle(job, plan, prove::judge(job), {}),
               stopped = plan_bundle(job, plan, {}, {}, {{job::Stage::prove, "a solver met what it cannot"}});
    ASSERT_TRUE(good && stopped);
    EXPECT_EQ(stopped->json, good->json);
    EXPECT_EQ(stopped->files.size(), good->files.size());
    EXPECT_NE(stopped->text.find("prove  needs you"), std::string::npos) << stopped->text;
    EXPECT_NE(stopped->text.find("stopped prove"), std::string::npos) << stopped->text;
    EXPECT_EQ(stopped->text.find("Nothing measured"), std::string::npos) << stopped->text;
}

StageLine find_line_of(const job::Job& job, const std::string& head) {
    const auto plan = plan::make_plan(job, head);
    return brief(job, plan, prove::judge(job, head), {LengthUnit::mm}, head)[1];
}

// Touches of head 22 that do not agree stop head 22 and leave head 6 as it is; beside them no chance is said.
TEST(Brief, TouchesThatDisagreeMarkTheirOwnHeadAlone) {
    auto job = fixtures::wedge_job();
    const auto plan = plan::make_plan(job);
    job.readings.touches.clear();
    const auto touch = [&](const std::string& head, std::size_t held, Vec2 off) {
        const auto& at = plan.hold.setups[0].valves[held];
        job.readings.touches.push_back(
            {.head = head, .valve = job.head.valves[at.valve].id, .at = at.readout + off});
    };
    for (const std::string head : {"6", "22"})
        for (std::size_t held = 0; held < plan.hold.setups[0].valves.size(); held += 2)
            touch(head, held, head == "22" && held == 4 ? Vec2(25, 0) : Vec2(0, 0));
    const StageLine good = find_line_of(job, "6"), off = find_line_of(job, "22");
    EXPECT_NE(good.state, StageState::needs_you) << good.next;
    EXPECT_NE(good.answer.find("chance"), std::string::npos) << good.answer;
    EXPECT_EQ(off.state, StageState::needs_you) << off.answer;
    EXPECT_EQ(off.answer.find("chance"), std::string::npos) << off.answer;
}

}  // namespace
}  // namespace seatwright::papers
