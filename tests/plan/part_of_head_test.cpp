// A plan of part of a head: what stops the rest stops nothing. The invented wedge head, touched where it
// lies.
#include <gtest/gtest.h>

#include "job_fixtures.hpp"
#include "seatwright/plan/plan.hpp"
#include "spoken.hpp"

namespace seatwright::plan {
namespace {

// One ring is new; of the others nothing was read.
TEST(PlanOfAPart, OneSeatGoesThroughWhereTheOthersAreNotRead) {
    job::Job job = fixtures::wedge_job(4, 112, 19.5);
    const hold::Hold held = hold::plan(job);
    for (const auto& valve : held.setups.at(0).valves)
        job.readings.touches.push_back({.valve = job.head.valves[valve.valve].id, .at = valve.readout});
    job = fixtures::with_guides_read(std::move(job));
    job.readings.seats = {{.valve = "3I", .recession = 0.2, .cleanup = 0.12}};
    for (const auto kind : job::both_kinds) job.seat[kind]->old_as_drawn = false;
    EXPECT_TRUE(blocked(make_plan(job).notices()));
    const Plan part = make_plan(job, {}, {.only = {"3I"}});
    ASSERT_EQ(part.cut.programs.size(), 1u);
    for (const Warning& warning : part.notices().warnings)
        EXPECT_NE(warning.severity, Severity::blocking) << spoken(warning.text);
    EXPECT_FALSE(blocked(part.notices()));
    // A seat asked for and not read stops the plan as before.
    EXPECT_TRUE(blocked(make_plan(job, {}, {.only = {"1I", "3I"}}).notices()));
}

}  // namespace
}  // namespace seatwright::plan
