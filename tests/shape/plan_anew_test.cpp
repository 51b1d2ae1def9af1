// A first seat that went deeper than the plan can bear: both ways stand side by side, and a person chooses.
// Invented head of six seats, each planned 0.10 deep from one stem height of 47.5, spread at most 0.05. The
// figures are sums of those.
#include "seatwright/shape/plan_anew.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "job_fixtures.hpp"
#include "seatwright/shape/shape.hpp"
#include "spoken.hpp"

namespace seatwright::shape {
namespace {

constexpr double figure = 1e-6;

struct Head {
    job::Job job = fixtures::with_guides_read(fixtures::wedge_job(3));

    Head() {
        job.depth.stem_spread = 0.05;
        job.cut.trim_max = 0.3;  // so that Z0 is not in question here
        for (const job::Valve& valve : job.head.valves) {
            job::SeatBefore seat;
            seat.valve = valve.id;
            seat.recession = 0.2;
            seat.stem_height = 47.5;
            seat.cleanup = 0.08;
            job.readings.seats.push_back(seat);
        }
    }
    job::FirstSeat& read(const std::string& valve, double depth) {
        job::FirstSeat reading;
        reading.valve = valve;
        reading.depth = depth;
        job.readings.firsts.push_back(reading);
        return job.readings.firsts.back();
    }
    Shape shaped() const {
        const hold::Hold hold = hold::plan(job);
        return design(job, hold, find::locate(job, hold), "1");
    }
    const Seat& seat(const Shape& shape, const std::string& id) const {
        return shape.seats.at(*job.head.index_of(id));
    }
    double depth(const Shape& shape, const std::string& id) const { return *seat(shape, id).depth; }
};

std::vector<std::string> held(const Shape& shape) {
    std::vector<std::string> out;
    for (const HeldBack& held : shape.held_back) out.push_back(*held.valve);
    return out;
}

TEST(PlanAnew, NothingIsAskedWhereThePlanBearsIt) {
    Head head;
    const Shape plain = head.shaped();
    for (const char* id : {"1I", "2E", "3I"}) EXPECT_NEAR(head.depth(plain, id), 0.10, figure);
    // Within U = 0.0283 of the plan nobody can tell it from it.
    head.read("3I", 0.12);
    Shape shape = head.shaped();
    EXPECT_FALSE(shape.depth.anew);
    EXPECT_NEAR(head.depth(shape, "3I"), 0.10, figure);
    // 0.045 deeper, which the spread still bears: it stands in the plan as measured.
    head.job.readings.firsts[0].depth = 0.145;
    shape = head.shaped();
    EXPECT_FALSE(shape.depth.anew);
    EXPECT_TRUE(shape.held_back.empty());
    EXPECT_NEAR(head.depth(shape, "3I"), 0.145, figure);
    EXPECT_NEAR(head.seat(shape, "3I").since_first, 0.045, figure);
    EXPECT_NEAR(*shape.depth.stem_spread.intake, 0.045, figure);
    EXPECT_NEAR(*shape.depth.total, 0.645, figure);
}

TEST(PlanAnew, BothWaysStandSideBySideUntilSomebodyChooses) {
    Head head;
    head.read("3I", 0.19);
    const Shape shape = head.shaped();
    ASSERT_TRUE(shape.depth.anew);
    const PlanAnew& ways = *shape.depth.anew;
    EXPECT_EQ(ways.chosen, job::AfterFirst::open);
    EXPECT_EQ(ways.after, (std::vector<std::size_t>{*head.job.head.index_of("3I")}));
    // As planned: intake stems of 47.60 and 47.69 differ by 0.09.
    ASSERT_EQ(ways.shifted.breaks.size(), 1U);
    EXPECT_NE(spoken(ways.shifted.breaks[0]).find("0.090 mm"), std::string::npos)
        << spoken(ways.shifted.breaks[0]);
    EXPECT_NEAR(*ways.shifted.total, 0.69, figure);
    EXPECT_NEAR(ways.shifted.deeper, 0, figure);
    // Anew: the other two intakes 0.14 deep, 47.64.
    EXPECT_TRUE(ways.anew.breaks.empty());
    EXPECT_NEAR(*ways.anew.total, 0.77, figure);
    EXPECT_NEAR(ways.anew.deeper, 0.08, figure);
    ASSERT_EQ(ways.anew.seats.size(), 6U);
    for (const DepthWay::OfSeat& seat : ways.anew.seats) {
        const job::Valve& valve = head.job.head.valves[seat.valve];
        const double wanted = valve.kind == job::Kind::exhaust ? 0.10 : valve.id == "3I" ? 0.19 : 0.14;
        EXPECT_NEAR(*seat.depth, wanted, figure) << valve.id;
    }
    // Its own kind waits; the seat that is cut, and the exhausts, do not.
    EXPECT_EQ(held(shape), (std::vector<std::string>{"1I", "2I"}));
    EXPECT_EQ(shape.held_back[0].code, HeldCode::missing);
    EXPECT_NE(spoken(shape.held_back[0].frees).find("plan = \"shifted\" or plan = \"anew\""),
              std::string::npos);
    EXPECT_NE(spoken(shape.held_back[0].reason).find("0.080 mm"), std::string::npos)
        << spoken(shape.held_back[0].reason);
}

TEST(PlanAnew, WhatIsChosenIsThePlan) {
    Head head;
    head.read("3I", 0.19).plan = job::AfterFirst::anew;
    Shape shape = head.shaped();
    EXPECT_TRUE(shape.held_back.empty());
    EXPECT_TRUE(shape.depth.feasible);
    EXPECT_NEAR(head.depth(shape, "1I"), 0.14, figure);
    EXPECT_NEAR(head.depth(shape, "3I"), 0.19, figure);
    EXPECT_NEAR(head.seat(shape, "1I").since_first, 0.04, figure);
    EXPECT_NEAR(head.seat(shape, "1E").since_first, 0, figure);
    EXPECT_NEAR(*shape.depth.stem_spread.intake, 0.05, figure);
    head.job.readings.firsts[0].plan = job::AfterFirst::shifted;
    shape = head.shaped();
    EXPECT_TRUE(shape.held_back.empty());
    EXPECT_NEAR(head.depth(shape, "1I"), 0.10, figure);
    EXPECT_NEAR(head.depth(shape, "3I"), 0.19, figure);
    EXPECT_FALSE(shape.depth.feasible);
    EXPECT_EQ(shape.depth.conflict.size(), 1U);
    for (const Warning& warning : shape.warnings)
        EXPECT_NE(warning.severity, Severity::blocking) << spoken(warning.text);
}

// Past its own limit no plan of the others mends it; both say so.
TEST(PlanAnew, ASeatPastItsOwnLimitIsSaidBothWays) {
    Head head;
    for (const auto kind : job::both_kinds) head.job.seat[kind]->recession_max = 0.35;
    head.read("3I", 0.19);
    const Shape shape = head.shaped();
    ASSERT_TRUE(shape.depth.anew);
    for (const DepthWay* way : {&shape.depth.anew->shifted, &shape.depth.anew->anew}) {
        ASSERT_FALSE(way->breaks.empty());
        EXPECT_NE(spoken(way->breaks[0]).find("3I is 0.040 mm past its limit (recession)"), std::string::npos)
            << spoken(way->breaks[0]);
    }
}

// More than a trim may be: Z0 is wrong, and no plan is made around it before a lead says so.
TEST(PlanAnew, AZ0ThatIsWrongMakesNoPlan) {
    Head head;
    head.job.cut.trim_max = 0.10;
    head.read("3I", 0.19);
    EXPECT_FALSE(head.shaped().depth.anew);
    head.job.allow = {{"trim 3I", "a burr under the cutter", "a lead", 1}};
    EXPECT_TRUE(head.shaped().depth.anew);
}

// All to one stem height of 47.60; the valve of 3I then stands 0.09 further out.
TEST(PlanAnew, OfAPlanToOneHeight) {
    Head head;
    head.job.depth.to = job::DepthTo::height;
    for (const auto kind : job::both_kinds) {
        head.job.seat[kind]->finish = job::Finish{};
        head.job.seat[kind]->finish->stem_height = 47.60;
    }
    for (auto& seat : head.job.readings.seats) {
        seat.stem_height = 47.5;
        seat.valve_used = job::SeatBefore::ValveUsed::setting;
        seat.recession = 0.0;
    }
    job::FirstSeat reading;
    reading.valve = "3I";
    reading.stem_height = 47.69;
    head.job.readings.firsts = {reading};
    Shape shape = head.shaped();
    ASSERT_TRUE(shape.depth.anew);
    EXPECT_EQ(held(shape), (std::vector<std::string>{"1I", "2I"}));
    EXPECT_NEAR(shape.depth.anew->anew.deeper, 0.08, figure);
    EXPECT_NEAR(head.depth(shape, "3I"), 0.19, figure);
    EXPECT_NEAR(head.depth(shape, "1I"), 0.10, figure);
    head.job.readings.firsts[0].plan = job::AfterFirst::anew;
    shape = head.shaped();
    EXPECT_TRUE(shape.held_back.empty());
    EXPECT_NEAR(head.depth(shape, "1I"), 0.14, figure);
    EXPECT_NEAR(*head.seat(shape, "1I").stop_s, -0.14, figure);
    EXPECT_NEAR(head.depth(shape, "1E"), 0.10, figure);
}

}  // namespace
}  // namespace seatwright::shape
