// Z zero of a whole head's programs, through all stages. Invented head of programmed.hpp: recessions 1E 0.21,
// 1I 0.22, 2E 0.23, 2I 0.24, 3E 0.25, 3I 0.26, every seat cut 0.14 deep; Z0 touched on 2E and 2I.
#include "seatwright/cut/zeros.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "cut/programmed.hpp"
#include "spoken.hpp"

namespace seatwright::cut {
namespace {

job::FirstSeat first_read(const std::string& valve, double depth) {
    job::FirstSeat reading;
    reading.valve = valve;
    reading.depth = depth;
    return reading;
}

// Heights of the stem before and after, so that the depth is known.
void finish(job::Job& job, const std::string& valve, double depth) {
    job::SeatBefore before;
    before.valve = valve;
    before.stem_height = 47.7;
    job.readings.seats.push_back(before);
    job::SeatAfter after;
    after.valve = valve;
    after.stem_height = 47.7 + depth;
    after.runout = 0.01;
    job.readings.proofs.push_back(after);
}

struct Head {
    fixtures::Programmed base = fixtures::planned(fixtures::programmed_job());
    job::Job job = base.job;

    Cut cut(const job::Selection& selection = {}) const {
        const auto find = find::locate(job, base.hold);
        const auto shape = shape::design(job, base.hold, find, "1");
        return plan(job, base.hold, find, shape, selection);
    }
};

std::vector<std::string> seats_of(const Cut& cut) {
    std::vector<std::string> out;
    for (const Program& program : cut.programs)
        for (const Stop& stop : program.route.stops) out.push_back(stop.id);
    return out;
}

bool held(const Cut& cut, HeldCode code) {
    return std::any_of(cut.held_back.begin(), cut.held_back.end(),
                       [&](const HeldBack& h) { return h.code == code; });
}

const CutterZero& zero_in(const Cut& cut, std::size_t program) {
    return cut.programs.at(program).route.zeros.front();
}

TEST(Zeros, TouchedInTheMiddleOfEachRow) {
    const Head head;
    const Cut cut = head.cut();
    ASSERT_EQ(cut.programs.size(), 2U);
    EXPECT_EQ(head.job.head.valves[*zero_in(cut, 0).taken.valve].id, "2E");
    EXPECT_EQ(head.job.head.valves[*zero_in(cut, 1).taken.valve].id, "2I");
    // 2·√(0.03² + 0.02² + 0.02²).
    EXPECT_NEAR(zero_in(cut, 0).taken.u_worst, 0.0825, 1e-4);
    // A row stands level when it is plumb: Z_1E = −0.21 − 0.14 + 0.23, 0.10 short.
    const Stop& first = cut.programs[0].route.stops.front();
    const double z = first.id == "1E" ? -0.12 : -0.16;
    EXPECT_NEAR(first.z, z + 0.10, 1e-4) << first.id;
}

// The first seat read, its second file: the seat touched and cut is this very one.
TEST(Zeros, OneSeatOnlyIsTouchedAndReadAndFinished) {
    Head head;
    job::Selection only;
    only.only = {"3I"};
    EXPECT_EQ(seats_of(head.cut(only)), (std::vector<std::string>{"3I"}));
    head.job.readings.firsts = {first_read("3I", 0.075)};
    const Cut second = head.cut(only);
    EXPECT_FALSE(held(second, HeldCode::zero_void));
    ASSERT_EQ(seats_of(second), (std::vector<std::string>{"3I"}));
    EXPECT_EQ(second.programs[0].route.part, FilePart::rest);
    EXPECT_NEAR(zero_in(second, 0).trim, 0.035, 1e-9);
}

TEST(Zeros, OnAFinishedSeatWhichIsNotCutAgain) {
    Head head;
    head.job.depth.from = job::DepthFrom::finished;
    EXPECT_TRUE(held(head.cut(), HeldCode::zero_void));
    // As deep as planned or deeper: 0.14 and a little.
    head.job.readings.firsts = {first_read("1E", 0.155), first_read("1I", 0.155)};
    head.job.depth.zero_on = "1E";
    head.job.cut.first_short = 0.03;  // neither can be the reading of a short cut
    head.job.cut.trim_max = 0.04;
    const Cut cut = head.cut();
    ASSERT_FALSE(cut.programs.empty());
    const shape::Zero& zero = zero_in(cut, 0).taken;
    EXPECT_EQ(zero.on, shape::ZeroOn::finished_seat);
    EXPECT_EQ(head.job.head.valves[*zero.valve].id, "1E");
    EXPECT_EQ(zero.rest, 0.0);
    const auto seats = seats_of(cut);
    EXPECT_EQ(std::count(seats.begin(), seats.end(), "1E"), 0);
}

TEST(Zeros, ABladeBrokeAt3I) {
    Head head;
    job::Selection from;
    from.from = "3I";
    finish(head.job, "1I", 0.155);
    head.job.readings.firsts = {first_read("1I", 0.075)};  // of the old blade: its trim is void
    const Cut cut = head.cut(from);
    ASSERT_EQ(cut.programs.size(), 1U);
    const CutterZero& zero = zero_in(cut, 0);
    EXPECT_EQ(zero.taken.on, shape::ZeroOn::finished_seat);
    EXPECT_EQ(head.job.head.valves[*zero.taken.valve].id, "1I");
    // zeta = m − 0.22 − 0.155.
    const auto& held_1i = cut.programs[0].route.setup;
    for (const auto& at : head.base.hold.setups[held_1i].valves)
        if (at.valve == *zero.taken.valve) {
            EXPECT_NEAR(zero.taken.zeta, at.map.z() - 0.375, 1e-9);
        }
    EXPECT_EQ(zero.trim, 0);
    EXPECT_NE(cut.programs[0].file.find("-from3I"), std::string::npos);
    const auto seats = seats_of(cut);
    EXPECT_EQ(std::count(seats.begin(), seats.end(), "1I"), 0);
}

TEST(Zeros, ABallInAChamberIsRefused) {
    Head head;
    head.job.depth.from = job::DepthFrom::deck;
    head.job.machine.zero = job::ZeroKept::offsets;
    head.job.machine.ball = 3;
    head.job.depth.deck_at = Vec2(56, 40);
    EXPECT_FALSE(held(head.cut(), HeldCode::zero_void));
    head.job.depth.deck_at = Vec2(22, 8);  // over 1I
    EXPECT_TRUE(held(head.cut(), HeldCode::zero_void));
    EXPECT_TRUE(head.cut().programs.empty());
    head.job.depth.deck_at.reset();
    const Cut bare = head.cut();
    ASSERT_TRUE(held(bare, HeldCode::missing));
    EXPECT_EQ(spoken(bare.held_back.front().frees), "depth.deck_at");
}

// The margin of a cleanup is there to be used: with 0.10 of it Z is well enough known.
TEST(Zeros, WithoutTheStopWhereLimitsAreFar) {
    Head head;
    head.job.cut.first_stop = false;
    EXPECT_EQ(head.cut().programs.at(0).route.part, FilePart::first);
    head.job.depth.cleanup_margin = 0.10;
    EXPECT_EQ(head.cut().programs.at(0).route.part, FilePart::whole);
}

// ------------------------------------------------------- worked figures, through all stages (to 1e-4 mm)

// The canted head of working.md: 1I and 3I of one setup, deck cut 0.10, recessions 0.25 and 0.27, depths by
// hand 0.19 and 0.15.
struct Canted {
    job::Job job = fixtures::programmed_job();
    job::Selection selection;

    Canted() {
        job.head.valves = {{"1I", 1, job::Kind::intake, Vec3(-24.5, 9, -12), rad(22), rad(4)},
                           {"3I", 3, job::Kind::intake, Vec3(211.5, 9, -12), rad(22), rad(4)}};
        job.fixture.swing = {rad(-10), rad(10)};
        job.fixtures = {job.fixture};
        job.depth.deck_cut = 0.10;
        job.depth.zero_on = "1I";
        job.readings.guides.clear();
        job.readings.seats.clear();
        for (const char* id : {"1I", "3I"}) {
            job.readings.guides.push_back({"1", id, 8.714, 8.714, 8.714});
            job::SeatBefore seat;
            seat.valve = id;
            seat.recession = job.readings.seats.empty() ? 0.25 : 0.27;
            seat.cleanup = 0.05;
            job.readings.seats.push_back(seat);
        }
        job.depth.seats = {{"1I", 0.19, {}, 0}, {"3I", 0.15, {}, 0}};
    }
    // Stops of 1I and 3I in their program.
    std::pair<double, double> stops() const {
        const auto hold = hold::plan(job);
        job::Job touched = job;
        fixtures::touch_all(touched, hold);
        const auto find = find::locate(touched, hold);
        const auto shape = shape::design(touched, hold, find, "1");
        const Cut cut = plan(touched, hold, find, shape, selection);
        std::pair<double, double> out{1e9, 1e9};
        for (const SeatCut& seat : cut.seats)
            if (seat.program_z) (seat.valve == 0 ? out.first : out.second) = *seat.program_z;
        return out;
    }
    void expect(double one, double three) const {
        const auto [z1, z3] = stops();
        EXPECT_NEAR(z1, one, 1e-4);
        EXPECT_NEAR(z3, three, 1e-4);
    }
};

TEST(WorkedZeros, TouchedOn1I) {
    Canted head;
    head.expect(-0.1900, 15.0990);
    head.job.depth.feeler = 0.05;
    head.expect(-0.2607, 15.0283);
    head.job.machine.z_sign = -1;  // as the control counts
    head.expect(0.2607, -15.0283);
}

TEST(WorkedZeros, ToOneHeight) {
    Canted head;
    head.job.depth.seats.clear();
    head.job.depth.to = job::DepthTo::height;
    head.job.seat.intake->finish = job::Finish{{}, {}, 0.42};
    head.expect(-0.1700, 15.0990);
}

TEST(WorkedZeros, BallOnTheDeck) {
    Canted head;
    head.job.depth.from = job::DepthFrom::deck;
    head.job.depth.deck_at = Vec2(60, 40);
    head.job.machine.zero = job::ZeroKept::offsets;
    head.job.machine.ball = 3;
    head.job.cutters[0].lowest = 2.2624;
    head.expect(-31.0107, -15.7217);
}

TEST(WorkedZeros, FirstSeatReadAndTrimmed) {
    Canted head;
    head.job.readings.firsts = {first_read("3I", 0.085)};
    head.expect(-0.1550, 15.1340);
    head.job.readings.firsts = {first_read("3I", 0.030)};  // −0.020, within the gauge
    head.expect(-0.1900, 15.0990);
}

TEST(WorkedZeros, ANewBladeOnAFinishedSeat) {
    Canted head;
    head.job.depth.from = job::DepthFrom::finished;
    head.job.readings.firsts = {first_read("1I", 0.205)};
    head.expect(0.0150, 15.3040);
}

}  // namespace
}  // namespace seatwright::cut
