// Routes damaged on purpose and then written faithfully: the program does what its route says, and the
// read-back refuses it all the same, since what it expects comes from head, attitude, touches and readings.
#include <gtest/gtest.h>

#include <cmath>
#include <functional>
#include <set>

#include "cut/programmed.hpp"
#include "seatwright/cut/program.hpp"
#include "seatwright/cut/readback.hpp"
#include "seatwright/cut/readback_route.hpp"
#include "spoken.hpp"

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
        {"a trim that is no number", [](Route& r) { r.zeros[0].trim = std::nan(""); }, "no number"},
        {"a pilot for Z0 that is taken in no guide",
         [](Route& r) {
             r.zeros[0].taken.valve.reset();
             r.zeros[0].taken.on = shape::ZeroOn::block;
         },
         "taken in no guide"},
        {"no look at the tool", [](Route& r) { r.zeros[0].look.clear(); }, "to be seen 0.0 mm over the deck"},
        {"a look that says another height",
         [](Route& r) { r.zeros[0].look = "the tip stands 40 mm over the deck at 1E"; }, "over the deck"},
        {"a setup of its own way of the pilot", [](Route& r) { r.pilot = job::PilotUse::none; },
         "has a pilot"},
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

// The file of a first seat, with one stop that is cut short: it is held to its place and height like any
// other.
TEST(RouteDamage, TheFirstSeatLiesWhereTheHeadHasIt) {
    const auto p = fixtures::planned(fixtures::programmed_job());
    const Program& program = p.cut.programs.front();
    ASSERT_EQ(program.route.part, FilePart::first);
    const Expected expected = p.expected(program);
    EXPECT_EQ(fault_of(p, program, program.route, expected), "");
    Route route = program.route;
    route.stops[0].at.y() += 1;
    EXPECT_NE(fault_of(p, program, route, expected).find("touched at"), std::string::npos);
    route = program.route;
    shift_all(route, 0.2);
    EXPECT_NE(fault_of(p, program, route, expected).find("by head, zero and plan"), std::string::npos);
}

TEST(RouteDamage, ASeatNobodyPlannedIsNotCut) {
    const auto p = fixtures::programmed(fixtures::programmed_job());
    const Program& program = p.cut.programs.front();
    Expected expected = p.expected(program);
    for (ExpectedSeat& seat : expected.seats)
        if (seat.valve == program.route.stops[1].valve) seat.planned.reset();
    EXPECT_NE(fault_of(p, program, program.route, expected).find("is not planned"), std::string::npos);
}

// On a finished seat Z0 is as good as before once that seat is cut again.
TEST(RouteDamage, AFinishedSeatNeedNotBeTheLast) {
    const auto p = fixtures::programmed(fixtures::programmed_job());
    const Program& program = p.cut.programs.front();
    Route route = program.route;
    route.zeros[0].taken.on = shape::ZeroOn::finished_seat;
    route.zeros[0].taken.valve = route.stops[0].valve;
    // The look says where Z0 was taken.
    const std::string fault = fault_of(p, program, route, p.expected(program));
    EXPECT_EQ(fault.find("is cut before"), std::string::npos) << fault;
    EXPECT_NE(fault_of_route(p.job, program.route, p.expected(program)), "x");
    EXPECT_EQ(fault_of_route(p.job, route, p.expected(program)), "");
}

// Seats that stand at different heights in the setup: a slip in one drawing height shows.
TEST(RouteDamage, EachSeatStandsAtItsOwnHeight) {
    job::Job job = fixtures::programmed_job();
    double z = -9;
    for (job::Valve& valve : job.head.valves) valve.seat.z() = z -= 0.4;
    const auto p = fixtures::programmed(job);
    ASSERT_FALSE(p.cut.programs.empty());
    const Program& program = p.cut.programs.front();
    Expected expected = p.expected(program);
    EXPECT_EQ(fault_of(p, program, program.route, expected), "");
    std::set<double> heights;
    for (const ExpectedSeat& seat : expected.seats) heights.insert(seat.m);
    EXPECT_EQ(heights.size(), expected.seats.size());
    for (ExpectedSeat& seat : expected.seats) seat.m = 0;
    EXPECT_NE(fault_of(p, program, program.route, expected).find("by head, zero and plan"),
              std::string::npos);
}

// A person had the touched seat cut first: then it comes first, and Z0 was checked on it before.
TEST(RouteDamage, TheTouchedSeatIsFirstWhereAPersonChoseIt) {
    for (const auto trim : {job::TrimAt::file, job::TrimAt::control}) {
        job::Job job = fixtures::programmed_job();
        job.machine.trim = trim;
        job.depth.zero_on = "2I";
        job.cut.first = "2I";
        const auto p = fixtures::programmed(job);
        int chosen = 0;
        for (const Program& program : p.cut.programs) {
            const Expected expected = p.expected(program);
            EXPECT_EQ(fault_of(p, program, program.route, expected), "");
            if (program.route.stops.front().id != "2I") continue;
            ++chosen;
            auto other = p;
            other.job.cut.first = "1I";
            EXPECT_NE(fault_of(other, program, program.route, expected).find("is cut before"),
                      std::string::npos);
        }
        EXPECT_EQ(chosen, trim == job::TrimAt::control ? 1 : 0);
        std::vector<const Route*> routes;
        for (const Program& program : p.cut.programs) routes.push_back(&program.route);
        EXPECT_EQ(fault_of_files(p.job, routes), "");
    }
}

TEST(RouteDamage, TwoPilotsOfOneNameCannotBeToldApart) {
    job::Job job = fixtures::programmed_job();
    job.pilots[0].name = "8.7%";
    job.pilots[1].name = "8.7!";
    EXPECT_FALSE(fixtures::programmed(job).cut.programs.empty());
    for (job::GuideBore& bore : job.readings.guides)
        if (bore.valve == "1I") bore.top = bore.middle = bore.bottom = 8.734;
    const auto p = fixtures::programmed(job);
    for (const Program& program : p.cut.programs)
        for (const Stop& stop : program.route.stops) EXPECT_EQ(stop.id.back(), 'E');
    bool said = false;
    for (const Warning& warning : p.cut.warnings)
        said = said || spoken(warning.text).find("two pilots are called") != std::string::npos;
    EXPECT_TRUE(said);
}

TEST(RouteDamage, WhatABlockNeedsIsAskedFor) {
    job::Job job = fixtures::programmed_job();
    for (job::Valve& valve : job.head.valves) valve.incline = 0;
    job.depth.from = job::DepthFrom::deck;
    job.depth.block = 25;
    job.sure = {{"head.lies = as declared", 1}};  // upright, it might lie end for end
    const auto p = fixtures::planned(job);
    ASSERT_FALSE(p.cut.programs.empty());
    const Program& program = p.cut.programs.front();
    const Expected expected = p.expected(program);
    EXPECT_EQ(fault_of(p, program, program.route, expected), "");
    auto none = p;
    none.job.depth.block.reset();
    EXPECT_NE(fault_of(none, program, program.route, expected).find("cannot be worked out"),
              std::string::npos);
    auto off = p;
    off.job.machine.pilot_change = job::PilotChange::cutter_off;
    EXPECT_NE(fault_of(off, program, program.route, expected).find("putting it in takes the cutter off"),
              std::string::npos);
}

// Between files: Z0 on a seat that a file before has cut, unless a person had that one cut first; a pilot
// that is said to stand still though another was put in, for this Z0 of this cutter in this setup.
TEST(RouteDamage, BetweenFilesZ0AndPilotsAreFollowed) {
    const auto p = fixtures::programmed(fixtures::programmed_job());
    Route first = p.cut.programs[0].route, second = first;
    ASSERT_TRUE(first.zeros[0].pilot_stands);
    second.stops = {first.stops.back()};
    first.stops.pop_back();
    EXPECT_EQ(fault_of_files(p.job, {&first, &second}), "");
    // One pilot for all: it stands from file to file.
    Route touched_first = second, rest = first;
    EXPECT_NE(fault_of_files(p.job, {&touched_first, &rest}).find("which a file before has cut"),
              std::string::npos);
    job::Job chosen = p.job;
    chosen.cut.first = second.stops[0].id;
    EXPECT_EQ(fault_of_files(chosen, {&touched_first, &rest}), "");
    rest.zeros[0].taken.on = shape::ZeroOn::finished_seat;
    EXPECT_EQ(fault_of_files(p.job, {&touched_first, &rest}), "");
    rest.zeros[0].taken.on = shape::ZeroOn::block;
    rest.zeros[0].taken.valve.reset();
    EXPECT_EQ(fault_of_files(p.job, {&touched_first, &rest}), "");

    const auto fault = [&](const std::function<void(Route&, Route&)>& change) {
        Route before = first, after = second;
        before.stops[0].pilot = 1;
        change(before, after);
        return fault_of_files(p.job, {&before, &after});
    };
    EXPECT_NE(fault([](Route&, Route&) {}).find("was changed in a file before"), std::string::npos);
    EXPECT_EQ(fault([](Route&, Route& r) { r.zeros[0].pilot_stands = false; }), "");
    EXPECT_EQ(fault([](Route&, Route& r) { r.setup = 1; }), "");
    EXPECT_EQ(fault([](Route&, Route& r) { r.zeros[0].cutter = 7; }), "");
    EXPECT_EQ(fault([](Route&, Route& r) { r.zeros[0].taken.zeta += 1; }), "");
    EXPECT_EQ(fault([](Route&, Route& r) { r.zeros[0].taken.valve = 5; }), "");
    EXPECT_EQ(fault([](Route&, Route& r) { r.zeros[0].taken.on = shape::ZeroOn::finished_seat; }), "");
    EXPECT_EQ(fault([](Route& r, Route&) { r.stops[0].tool.number = 7; }), "");
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
    erase_if(p.job.readings.touches,
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
