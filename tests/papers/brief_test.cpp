// The five lines of a plan: a stage that waits for a person says so.
#include "seatwright/report/brief.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "job_fixtures.hpp"
#include "seatwright/papers/bundle.hpp"

namespace seatwright::papers {
namespace {

using namespace report;

StageLine cut_line_of(const job::Job& job) {
    const auto plan = plan::make_plan(job);
    const auto lines = brief(job, plan, prove::judge(job), LengthUnit::mm, plan.shape.head);
    return *std::find_if(lines.begin(), lines.end(),
                         [](const StageLine& line) { return line.stage == "cut"; });
}

TEST(Brief, CutNeedsYouWhileAnythingIsHeldBackEvenIfNoSeatIsPlanned) {
    auto job = fixtures::wedge_job();
    for (const auto kind : job::both_kinds) job.seat[kind]->old_as_drawn = false;
    const StageLine line = cut_line_of(job);
    EXPECT_EQ(line.state, StageState::needs_you);
    EXPECT_NE(line.answer.find("held back"), std::string::npos) << line.answer;
    EXPECT_FALSE(line.next.empty());
    EXPECT_EQ(line.answer.find("checked"), std::string::npos) << line.answer;
}

TEST(Brief, CutNeedsYouWhileOneValveIsHeldBack) {
    auto job = fixtures::wedge_job();
    job.readings.guides.push_back({.valve = "3I", .top = 8.95, .middle = 8.90, .bottom = 8.95});
    job.guide.intake->bore_max = 8.83;
    EXPECT_EQ(cut_line_of(job).state, StageState::needs_you);
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

}  // namespace
}  // namespace seatwright::papers
