// A pilot change that takes the cutter off the spindle, and Z0 with it: the seats of each pilot are files
// with their own Z0, first seat and trim. Invented data; the trim is the worked one (read 0.035 deeper).
#include <gtest/gtest.h>

#include <algorithm>

#include "cut/programmed.hpp"
#include "seatwright/cut/program.hpp"
#include "seatwright/cut/readback.hpp"
#include "seatwright/cut/readback_route.hpp"

namespace seatwright::cut {
namespace {

// Four cylinders; the guides of 2I and 1I are the larger pilot's.
job::Job cutter_off() {
    job::Job job = fixtures::programmed_job(4);
    for (job::GuideBore& bore : job.readings.guides)
        if (bore.valve == "2I" || bore.valve == "1I") bore.top = bore.middle = bore.bottom = 8.734;
    job.machine.pilot_change = job::PilotChange::cutter_off;
    job.depth.zero_on = "3I";
    return job;
}

const Program* named(const Cut& cut, const std::string& file) {
    const auto at = std::find_if(cut.programs.begin(), cut.programs.end(),
                                 [&](const Program& program) { return program.file == file; });
    return at == cut.programs.end() ? nullptr : &*at;
}

std::vector<std::string> seats_of(const Program& program) {
    std::vector<std::string> out;
    for (const Stop& stop : program.route.stops) out.push_back(stop.id);
    std::sort(out.begin(), out.end());
    return out;
}

// A reading of the first seat of that file, so much deeper than planned.
void measure(job::Job& job, const Program& program, double deeper) {
    job::FirstSeat reading;
    reading.valve = program.route.stops.at(0).id;
    reading.depth = program.route.stops[0].depth + deeper;
    job.readings.firsts.push_back(reading);
}

std::string touched(const fixtures::Programmed& p, const Program& program) {
    return p.job.head.valves.at(*program.route.zeros.at(0).taken.valve).id;
}

TEST(PilotChange, EachPilotHasItsOwnFilesZ0AndFirstSeat) {
    auto p = fixtures::planned(cutter_off());
    const Program *small = named(p.cut, "program-1-A-2-first.ngc"),
                  *large = named(p.cut, "program-1-A-2b-first.ngc");
    ASSERT_TRUE(small && large);
    EXPECT_EQ(touched(p, *small), "3I");
    EXPECT_EQ(small->route.stops.at(0).id, "4I");
    EXPECT_EQ(small->route.stops[0].pilot, 0u);
    // Z0 of the other pilot is taken on a seat of its own, whatever zero_on says.
    EXPECT_TRUE(touched(p, *large) == "2I" || touched(p, *large) == "1I");
    EXPECT_EQ(large->route.zeros[0].pilot, 1u);
    EXPECT_EQ(large->route.stops.at(0).pilot, 1u);
    EXPECT_EQ(large->text.find("Put pilot"), std::string::npos);
    EXPECT_NE(large->text.find("(For Z0 pilot 8.73 in guide " + touched(p, *large) + ", cutter 2)"),
              std::string::npos);

    // The trim of the one is no affair of the other's new Z0.
    measure(p.job, *small, 0.035);
    p = fixtures::planned(std::move(p.job));
    const Program* small_rest = named(p.cut, "program-1-A-2.ngc");
    large = named(p.cut, "program-1-A-2b-first.ngc");
    ASSERT_TRUE(small_rest && large);
    EXPECT_NEAR(small_rest->route.zeros[0].trim, 0.035, 1e-9);
    EXPECT_EQ(large->route.zeros[0].trim, 0);
    EXPECT_EQ(large->text.find("trim +"), std::string::npos);
    EXPECT_EQ(seats_of(*small_rest), (std::vector<std::string>{"3I", "4I"}));

    measure(p.job, *large, 0);
    p = fixtures::planned(std::move(p.job));
    const Program* large_rest = named(p.cut, "program-1-A-2b.ngc");
    small_rest = named(p.cut, "program-1-A-2.ngc");
    ASSERT_TRUE(small_rest && large_rest);
    EXPECT_NEAR(small_rest->route.zeros[0].trim, 0.035, 1e-9);
    EXPECT_EQ(large_rest->route.zeros[0].trim, 0);
    EXPECT_EQ(seats_of(*large_rest), (std::vector<std::string>{"1I", "2I"}));
    EXPECT_TRUE(p.cut.held_back.empty());
    // A seat's Z is that of its own program.
    for (const SeatCut& seat : p.cut.seats)
        for (const Program& program : p.cut.programs)
            for (const Stop& stop : program.route.stops)
                if (stop.valve == seat.valve && !stop.short_cut) {
                    EXPECT_NEAR(*seat.program_z, stop.z, 1e-9) << stop.id;
                }
}

TEST(PilotChange, APilotWithNoSeatToTakeZ0OnIsHeldBack) {
    auto p = fixtures::planned(cutter_off());
    // New rings in 2I and 1I: no old face to rest on.
    for (shape::Seat& seat : p.shape.seats) {
        const std::string& id = p.job.head.valves[seat.valve].id;
        if (id == "2I" || id == "1I") seat.worn = {Vec2(18, 1), Vec2(24, 1)};
    }
    const Cut cut = plan(p.job, p.hold, p.find, p.shape);
    EXPECT_TRUE(named(cut, "program-1-A-2-first.ngc"));
    EXPECT_FALSE(named(cut, "program-1-A-2b-first.ngc"));
    ASSERT_EQ(cut.held_back.size(), 2u);
    for (const HeldBack& held : cut.held_back) EXPECT_EQ(held.code, HeldCode::zero_void);
    EXPECT_EQ(cut.held_back[0].valve, "1I");
    EXPECT_EQ(cut.held_back[1].valve, "2I");
}

TEST(PilotChange, OnABlockThePilotIsOutAndCannotComeInAfterwards) {
    job::Job job = cutter_off();
    for (job::Valve& valve : job.head.valves) valve.incline = 0;
    job.depth.from = job::DepthFrom::deck;
    job.depth.block = 25;
    job.sure = {{"head.lies = as declared", 1}};  // upright, it might lie end for end
    const auto p = fixtures::planned(job);
    EXPECT_TRUE(p.cut.programs.empty());
    EXPECT_EQ(p.cut.held_back.size(), p.job.head.valves.size());
    for (const HeldBack& held : p.cut.held_back) EXPECT_EQ(held.code, HeldCode::zero_void);
    job.machine.pilot_change = job::PilotChange::in_place;
    EXPECT_FALSE(fixtures::planned(job).cut.programs.empty());
}

// A blade broke among the larger pilot's seats: what the smaller one's files cut is not cut again.
TEST(PilotChange, ABrokenBladeGoesOnWithThePilotItBrokeWith) {
    auto p = fixtures::programmed(cutter_off());
    const Program* large = named(p.cut, "program-1-A-2b.ngc");
    ASSERT_TRUE(large);
    job::Selection from;
    from.from = large->route.stops.back().id;
    const Cut cut = plan(p.job, p.hold, p.find, p.shape, from);
    for (const Program& program : cut.programs)
        for (const Stop& stop : program.route.stops) EXPECT_EQ(stop.id, *from.from);
    EXPECT_TRUE(cut.programs.size() == 1 || !cut.held_back.empty());
}

// Lengths in the control: a file for each pilot of a cutter, all cutters in the first.
TEST(PilotChange, WithLengthsAFileHasOnePilotACutter) {
    job::Job job = cutter_off();
    job.machine.zero = job::ZeroKept::offsets;
    const auto p = fixtures::programmed(job);
    ASSERT_EQ(p.cut.programs.size(), 2u);
    EXPECT_EQ(p.cut.programs[0].file, "program-1-A.ngc");
    EXPECT_EQ(p.cut.programs[1].file, "program-1-A-b.ngc");
    EXPECT_EQ(p.cut.programs[0].route.zeros.size(), 2u);
    EXPECT_EQ(seats_of(p.cut.programs[1]), (std::vector<std::string>{"1I", "2I"}));
    EXPECT_EQ(p.cut.programs[1].text.find("Put pilot"), std::string::npos);
}

// Z0 by a ball on the deck, lengths to the lowest edge: pilots are put in before their cutter is.
TEST(PilotChange, WithABallEachCutterGetsItsPilot) {
    job::Job job = cutter_off();
    job.machine.zero = job::ZeroKept::offsets;
    job.depth.from = job::DepthFrom::deck;
    job.depth.deck_at = Vec2(60, 38);
    job.machine.ball = 3;
    const auto p = fixtures::programmed(job);
    ASSERT_EQ(p.cut.programs.size(), 2u);
    for (const Program& program : p.cut.programs) {
        EXPECT_NE(program.text.find("(Put pilot 8.7"), std::string::npos);
        EXPECT_FALSE(read_back(program.text, p.job, program.route, p.expected(program)));
    }
    // Touched, and one size for each kind: each cutter has its own from its Z0 on.
    job = cutter_off();
    job.machine.zero = job::ZeroKept::offsets;
    for (job::GuideBore& bore : job.readings.guides)
        bore.top = bore.middle = bore.bottom = bore.valve.back() == 'I' ? 8.734 : 8.714;
    const auto kinds = fixtures::programmed(job);
    ASSERT_EQ(kinds.cut.programs.size(), 1u);
    EXPECT_EQ(kinds.cut.programs[0].text.find("Put pilot"), std::string::npos);
}

TEST(PilotChange, TheReadBackRefusesAnotherPilotInTheFile) {
    const auto p = fixtures::programmed(cutter_off());
    const Program* small = named(p.cut, "program-1-A-2.ngc");
    ASSERT_TRUE(small);
    const auto in_place = [&] {
        job::Job job = cutter_off();
        job.machine.pilot_change = job::PilotChange::in_place;
        return fixtures::programmed(job);
    }();
    // Sound where the pilot is changed in place, and not where that voids Z0.
    const Program* all = named(in_place.cut, "program-1-A-2.ngc");
    ASSERT_TRUE(all);
    const Expected expected = in_place.expected(*all);
    EXPECT_FALSE(read_back(all->text, in_place.job, all->route, expected));
    const auto fault = read_back(all->text, p.job, all->route, expected);
    ASSERT_TRUE(fault);
    EXPECT_NE(fault->text.find("changing it takes the cutter off"), std::string::npos) << fault->text;
    // The same pilot put in anew takes the cutter off as well.
    Route route = small->route;
    route.zeros[0].pilot_stands = false;
    const auto again = read_back(write_program(p.job, p.hold.setups.at(route.setup), route), p.job, route,
                                 p.expected(*small));
    ASSERT_TRUE(again);
    EXPECT_NE(again->text.find("takes the cutter off the spindle"), std::string::npos) << again->text;
}

// The pilot still stands from Z0 on in the second of two files only if the first had no other.
TEST(PilotChange, AcrossFilesAPilotStandsOnlyIfNoOtherWasPutIn) {
    job::Job job = cutter_off();
    job.machine.pilot_change = job::PilotChange::in_place;
    const auto p = fixtures::programmed(job);
    const Program* all = named(p.cut, "program-1-A-2.ngc");
    ASSERT_TRUE(all);
    Route second = all->route;
    second.stops = {all->route.stops.back()};
    Route first = all->route;
    first.stops.pop_back();
    EXPECT_EQ(fault_of_files(p.job, {&first, &second}), "");
    second.zeros[0].pilot_stands = true;
    EXPECT_NE(fault_of_files(p.job, {&first, &second}).find("was changed in a file before"),
              std::string::npos);
    // Taken anew on another seat it is another matter.
    second.zeros[0].taken.zeta += 1;
    EXPECT_EQ(fault_of_files(p.job, {&first, &second}), "");
}

}  // namespace
}  // namespace seatwright::cut
