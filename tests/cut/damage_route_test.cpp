// Routes damaged on purpose and then written faithfully: the program does what its route says, and the
// read-back refuses it all the same, since what it expects comes from head, attitude, touches and readings.
#include <gtest/gtest.h>

#include <functional>

#include "cut/programmed.hpp"
#include "seatwright/cut/program.hpp"
#include "seatwright/cut/readback.hpp"
#include "seatwright/cut/readback_route.hpp"

namespace seatwright::cut {
namespace {

struct RouteDamage {
    const char* what;
    std::function<void(Route&)> harm;
    const char* says;
};

void shift_all(Route& route, double z) {
    for (Stop& stop : route.stops)
        for (double* height : {&stop.z, &stop.over_mouth, &stop.approach, &stop.finish_from}) *height += z;
}

std::vector<RouteDamage> damages() {
    return {
        {"all seats at X0 Y0",
         [](Route& r) {
             for (Stop& s : r.stops) s.at = Vec2::Zero();
         },
         "touched at"},
        {"two seats swapped", [](Route& r) { std::swap(r.stops[0].at, r.stops[1].at); }, "touched at"},
        {"the row turned end for end",
         [](Route& r) {
             for (Stop& s : r.stops) s.at.x() = 268 - s.at.x();
         },
         "touched at"},
        {"one seat 1 mm off", [](Route& r) { r.stops[1].at.y() += 1; }, "touched at"},
        {"inches taken for mm",
         [](Route& r) {
             for (Stop& s : r.stops) s.at /= 25.4;
         },
         "touched at"},
        {"the sign of X",
         [](Route& r) {
             for (Stop& s : r.stops) s.at.x() *= -1;
         },
         "touched at"},
        {"a step too deep", [](Route& r) { shift_all(r, -0.01); }, "by head, zero and plan"},
        {"a step too shallow", [](Route& r) { shift_all(r, 0.01); }, "by head, zero and plan"},
        {"the rest counted twice", [](Route& r) { shift_all(r, -0.18); }, "by head, zero and plan"},
        {"seats' heights swapped", [](Route& r) { std::swap(r.stops[0].z, r.stops[1].z); },
         "by head, zero and plan"},
        {"the first seat short though it is not said", [](Route& r) { r.stops[0].z += 0.1; },
         "by head, zero and plan"},
        {"short twice",
         [](Route& r) {
             r.stops[0].short_cut = true;
             r.stops[0].z += 0.2;
         },
         "by head, zero and plan"},
        {"a trim that only the header has", [](Route& r) { r.zeros[0].trim = 0.035; },
         "by head, zero and plan"},
        {"a trim that the header does not have", [](Route& r) { shift_all(r, 0.035); },
         "by head, zero and plan"},
        {"a trim applied twice",
         [](Route& r) {
             r.zeros[0].trim = 0.035;
             shift_all(r, 0.07);
         },
         "by head, zero and plan"},
        {"a trim before anything was measured",
         [](Route& r) {
             r.zeros[0].trim = 0.035;
             shift_all(r, 0.035);
             r.part = FilePart::first;
         },
         "trim"},
        {"zero taken on another seat", [](Route& r) { r.zeros[0].taken.valve = r.stops[0].valve; }, ""},
        {"the touched seat cut first", [](Route& r) { std::swap(r.stops.front(), r.stops.back()); },
         "is cut before"},
        {"a seat twice", [](Route& r) { r.stops.insert(r.stops.begin(), r.stops[0]); }, "cut twice"},
        {"a seat that is held back", [](Route& r) { r.held_back.push_back(r.stops[0].id); }, "is held back"},
        {"a seat of no setup here", [](Route& r) { r.stops[0].valve = 99; }, "does not belong"},
        {"the mouth taken 10 mm too low",
         [](Route& r) {
             for (Stop& s : r.stops) s.over_mouth -= 10;
         },
         "not free"},
    };
}

std::string fault_of(const fixtures::Programmed& p, const Program& program, const Route& route,
                     const Expected& expected) {
    const std::string text = write_program(p.job, p.hold.setups.at(program.route.setup), route);
    const auto fault = read_back(text, p.job, route, expected);
    return fault ? fault->text : std::string();
}

TEST(RouteDamage, WhatTheHeadCannotHaveIsRefused) {
    const auto p = fixtures::programmed(fixtures::programmed_job());
    ASSERT_GE(p.cut.programs.size(), 2u);
    for (const Program& program : p.cut.programs) {
        const Expected expected = p.expected(program);
        EXPECT_EQ(fault_of(p, program, program.route, expected), "");
        for (const RouteDamage& damage : damages()) {
            Route route = program.route;
            damage.harm(route);
            const std::string fault = fault_of(p, program, route, expected);
            EXPECT_NE(fault, "") << damage.what;
            EXPECT_NE(fault.find(damage.says), std::string::npos) << damage.what << ": " << fault;
        }
    }
}

// Each file is right by itself; a seat in two of them is cut by two blades.
TEST(RouteDamage, ASeatInTwoFilesIsRefused) {
    const auto p = fixtures::programmed(fixtures::programmed_job());
    ASSERT_GE(p.cut.programs.size(), 2u);
    Route other = p.cut.programs[1].route;
    EXPECT_EQ(fault_of_files(p.job, {&p.cut.programs[0].route, &other}), "");
    other.stops.push_back(p.cut.programs[0].route.stops.back());
    EXPECT_NE(fault_of_files(p.job, {&p.cut.programs[0].route, &other}), "");
    other.stops.back().short_cut = true;  // cut short in its first file
    EXPECT_EQ(fault_of_files(p.job, {&p.cut.programs[0].route, &other}), "");
}

// Nothing of the head touched: places are the map's, and it is the distances and the way round that tell.
TEST(RouteDamage, WithoutTouchesTheMapHolds) {
    auto p = fixtures::programmed(fixtures::programmed_job());
    p.job.readings.touches.clear();
    p.find.heads.clear();
    const Program& program = p.cut.programs.front();
    Route route = program.route;
    for (Stop& stop : route.stops) stop.at.y() = 0;
    const Expected expected = p.expected(program);
    EXPECT_EQ(fault_of(p, program, route, expected), "");
    Route moved = route;
    for (Stop& stop : moved.stops) stop.at.y() += 2;
    EXPECT_NE(fault_of(p, program, moved, expected).find("head as held has it"), std::string::npos);
}

// One guide touched: the others keep the drawing's distances from it, and its way round.
TEST(RouteDamage, DistancesAndTurnAreTheHeads) {
    auto p = fixtures::programmed(fixtures::programmed_job());
    const Program& program = p.cut.programs.front();
    std::erase_if(p.job.readings.touches,
                  [&](const job::Touch& t) { return t.valve != program.route.stops[0].id; });
    const Expected expected = p.expected(program);
    const Vec2 about = program.route.stops[0].at;
    EXPECT_EQ(fault_of(p, program, program.route, expected), "");
    const auto with = [&](const std::function<Vec2(const Vec2&)>& place) {
        Route route = program.route;
        for (Stop& stop : route.stops) stop.at = about + place(stop.at - about);
        return fault_of(p, program, route, expected);
    };
    EXPECT_NE(with([](const Vec2& d) { return Vec2(1.01 * d); }).find("apart"), std::string::npos);
    EXPECT_NE(with([](const Vec2&) { return Vec2(0, 0); }).find("at one place"), std::string::npos);
    EXPECT_NE(with([](const Vec2& d) { return Vec2(-d); }).find("turned by"), std::string::npos);
    EXPECT_NE(with([](const Vec2& d) {
                  return Vec2(d.x() - 0.02 * d.y(), d.y() + 0.02 * d.x());
              }).find("turned by"),
              std::string::npos);
    EXPECT_EQ(with([](const Vec2& d) { return d; }), "");
}

TEST(RouteDamage, AMachineThatCannotReachIsSaid) {
    const auto p = fixtures::programmed(fixtures::programmed_job());
    const Program& program = p.cut.programs.front();
    const Expected expected = p.expected(program);
    for (const auto& [axis, limit] :
         {std::pair{&job::Machine::travel_x, 150.0}, std::pair{&job::Machine::travel_y, 50.0},
          std::pair{&job::Machine::travel_z, 60.0}}) {
        auto small = p;
        small.job.machine.*axis = limit;
        EXPECT_NE(fault_of(small, program, program.route, expected).find("the machine has"),
                  std::string::npos);
    }
    for (const auto& [end, rpm] :
         {std::pair{&job::Machine::rpm_max, 120.0}, std::pair{&job::Machine::rpm_min, 400.0}}) {
        auto other = p;
        other.job.machine.*end = rpm;
        EXPECT_NE(fault_of(other, program, program.route, expected).find("than the machine turns"),
                  std::string::npos);
    }
}

// A reading that the plan of heights passed over is still there: no stop goes above it or beyond the limit.
TEST(RouteDamage, AStopAboveTheOldSeatOrBelowTheLimitIsRefused) {
    const auto p = fixtures::programmed(fixtures::programmed_job());
    const Program& program = p.cut.programs.front();
    for (const double off : {0.5, -3.0}) {
        Route route = program.route;
        shift_all(route, off);
        Expected expected = p.expected(program);
        for (ExpectedSeat& seat : expected.seats) *seat.planned += off;
        EXPECT_NE(fault_of(p, program, route, expected).find("readings allow"), std::string::npos) << off;
    }
}

}  // namespace
}  // namespace seatwright::cut
