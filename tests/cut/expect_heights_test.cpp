// What the read-back expects of a head, against figures worked out by hand: working.md's B1, B3 and B4
// (canted setup: incline 22, cant 4, tilt 21.9515, swing -4), distances and angles by triangles. Invented
// data.
#include <gtest/gtest.h>

#include <cmath>
#include <functional>

#include "cut/held_heads.hpp"

namespace seatwright::cut {
namespace {

constexpr double shown = 1e-4;  // what the worked figures are given to

TEST(Expect, HeightsOfTheCantedHeadAreTheWorkedOnes) {
    const Canted c;
    const Expected e = c.expected();
    EXPECT_NEAR(e.seats[0].m, 0, shown);
    EXPECT_NEAR(e.seats[1].m, 15.2690, shown * 10);  // the attitude is given to 1e-4 deg, over 236 mm
    EXPECT_NEAR(e.turn(2, 2), 0.925241, 1e-5);
    EXPECT_NEAR(e.turn(0, 2), -0.069756, 1e-5);
    EXPECT_NEAR(e.turn(1, 2), -0.372911, 1e-5);
    ASSERT_TRUE(e.seats[1].planned);
    EXPECT_EQ(*e.seats[1].planned, -0.42);
    EXPECT_EQ(*e.seats[1].touched_at, 0.27);
    EXPECT_EQ(e.seat(1), &e.seats[1]);
    EXPECT_EQ(e.seat(7), nullptr);
}

TEST(Expect, ZeroHeightsAreTheWorkedOnes) {
    Canted c;
    CutterZero touch = c.zero(shape::ZeroOn::old_seat, 0);
    EXPECT_NEAR(*c.height(touch), -0.25, shown);
    touch.taken.rest = 0.1812;
    EXPECT_NEAR(*c.height(touch), -0.25 + 0.1812, shown);
    touch.taken.rest.reset();
    c.job.depth.feeler = 0.05;
    EXPECT_NEAR(*c.height(touch), -0.25 + 0.0707, shown);
    touch.taken.valve = 9;
    EXPECT_FALSE(c.height(touch));
    touch.taken.valve.reset();
    EXPECT_FALSE(c.height(touch));
    touch.taken.valve = 0;
    c.job.seat.intake.reset();
    EXPECT_FALSE(c.height(touch));

    Canted ball;
    ball.job.depth.deck_at = Vec2(60, 40);
    ball.job.machine.ball = 3;
    ball.job.cutters[0].lowest = 0;
    const CutterZero deck = ball.zero(shape::ZeroOn::deck_point);
    EXPECT_NEAR(*ball.height(deck), 28.3083, shown * 10);
    ball.job.cutters[0].lowest = 2.2624;
    EXPECT_NEAR(*ball.height(deck), 28.3083 + 2.2624, shown * 10);
    for (const auto& lack : {std::function<void(Canted&)>([](Canted& x) { x.job.depth.deck_at.reset(); }),
                             std::function<void(Canted&)>([](Canted& x) { x.job.machine.ball.reset(); }),
                             std::function<void(Canted&)>([](Canted& x) { x.job.cutters[0].lowest.reset(); }),
                             std::function<void(Canted&)>([](Canted& x) { x.setup.tilt = rad(100); })}) {
        Canted without = ball;
        lack(without);
        EXPECT_FALSE(without.height(deck));
    }

    // Level deck 12 over the datum's gauge circle, 0.10 of it off.
    Canted block;
    block.setup.tilt = block.setup.swing = 0;
    block.job.depth.block = 25;
    block.job.cutters[0].lowest = 2.2624;
    const CutterZero on = block.zero(shape::ZeroOn::block);
    EXPECT_NEAR(*block.height(on), 12 - 0.10 + 25 + 2.2624, shown);
    Canted none = block;
    none.job.depth.block.reset();
    EXPECT_FALSE(none.height(on));
    none = block;
    none.job.cutters[0].lowest.reset();
    EXPECT_FALSE(none.height(on));

    CutterZero finished = c.zero(shape::ZeroOn::finished_seat, 0);
    finished.taken.zeta = -0.4550;
    EXPECT_EQ(*c.height(finished), -0.4550);
}

// B4: T read on a deck at q_r, drawing 1.00.
TEST(Expect, TheRecessionIsTheOneRead) {
    Read r;
    EXPECT_FALSE(r.recession());
    r.read().below_deck = 1.35;
    EXPECT_NEAR(*r.recession(), 0.35, 1e-12);
    r.job.readings.seats[0].after_deck_cut = true;
    EXPECT_NEAR(*r.recession(), 0.55, 1e-12);
    r.read().cleanup = 0.12;  // a later reading that says nothing of it
    EXPECT_NEAR(*r.recession(), 0.55, 1e-12);
    EXPECT_FALSE(r.expected().seats[1].recession);
    r.read().recession = 0.41;
    EXPECT_NEAR(*r.recession(), 0.41, 1e-12);  // said outright
    r.read().recession = 0.99;
    r.job.readings.seats.back().head = "2";
    EXPECT_NEAR(*r.recession(), 0.41, 1e-12);
    r.read().rest_z = -0.2;
    EXPECT_FALSE(r.recession());  // goes before both, and hangs on where Z0 was

    Read no_drawing;
    no_drawing.read().below_deck = 1.35;
    no_drawing.job.seat.intake->below_deck.reset();
    EXPECT_FALSE(no_drawing.recession());
    no_drawing.job.seat.intake.reset();
    EXPECT_FALSE(no_drawing.recession());
    Read steep;
    steep.read().below_deck = 1.35;
    steep.job.head.valves[0].incline = rad(22);
    EXPECT_FALSE(steep.recession());
    Read other;
    other.read().recession = 0.3;
    other.job.readings.seats[0].valve = "2I";
    EXPECT_FALSE(other.recession());
}

// B3: f = 1.10 − 1.00 + 0.20.
TEST(Expect, TheFinishedHeightIsTheOneAskedFor) {
    Read r;
    const auto finished = [&](std::size_t v = 0) { return r.expected().seats[v].finished; };
    r.job.seat.intake->finish = job::Finish{std::nullopt, 1.10, std::nullopt};
    EXPECT_FALSE(finished());  // a plan of least depths
    r.job.depth.to = job::DepthTo::height;
    EXPECT_NEAR(*finished(), 0.30, 1e-12);
    job::SeatOrder order;
    order.valve = "1I";
    order.finish = job::Finish{std::nullopt, std::nullopt, 0.42};
    r.job.depth.seats = {order};
    EXPECT_NEAR(*finished(), 0.42, 1e-12);
    EXPECT_NEAR(*finished(1), 0.30, 1e-12);
    r.job.depth.seats[0].finish = job::Finish{51.2, std::nullopt, std::nullopt};
    EXPECT_FALSE(finished());  // by a stem height it hangs on the valve
    r.job.depth.seats.clear();
    r.job.seat.intake->below_deck.reset();
    EXPECT_FALSE(finished());
    r.job.seat.intake.reset();
    EXPECT_FALSE(finished());
}

TEST(Expect, NoStopIsAboveTheOldSeatTheFinishedHeightOrBeyondTheLimit) {
    Read r;
    r.read().recession = 0.25;
    const auto between = [&] { return stop_between(r.expected().seats[0], 10); };
    EXPECT_NEAR(between().least, -1.20 - 10, 1e-6);  // the limit, and what the deck lost
    EXPECT_NEAR(between().most, -0.25 - 10, 1e-6);
    r.job.allow = {{"below finish 1I", "the customer's wish", "lead", 1}};
    EXPECT_NEAR(between().most, 5 - 10, 1e-6);
    r.job.allow[0].what = "below finish 2I";
    EXPECT_NEAR(between().most, -0.25 - 10, 1e-6);
    r.job.seat.intake->recession_max.reset();
    EXPECT_NEAR(between().least, -5.25 - 10, 1e-6);
    r.job.depth.to = job::DepthTo::height;
    r.job.seat.intake->finish = job::Finish{std::nullopt, std::nullopt, 0.50};
    EXPECT_NEAR(between().most, -0.50 - 10, 1e-6);
    r.job.seat.intake->recession_max = 0.10;  // less than what a person asks for
    EXPECT_NEAR(between().least, -0.50 - 10, 1e-6);
    r.job.seat.intake.reset();
    EXPECT_NEAR(between().least, -5.25 - 10, 1e-6);
}

// B8: to_seat 42, reach 136 and drop 20 (B 116); upright, m 0.
TEST(Expect, TheMouthIsWhereGuideAndToolHaveIt) {
    Read r;
    r.job.guide.intake->to_seat = 42;
    r.job.pilots[0].reach = 136;
    r.job.cutters[0].drop = 20;
    r.job.cutters[0].lowest = 2.2624;
    r.job.pilots[0].above = 95;
    Route route;
    route.zeros.emplace_back();
    route.zeros[0].taken.valve = 0;
    Stop stop;
    stop.pilot = 0;
    stop.z = -0.44;
    const auto over = [&](double zero = 0) {
        return over_mouth(r.expected().seats[0], r.job, route, stop, zero);
    };
    EXPECT_NEAR(*over(), -42 + 116 + 5, 1e-9);
    EXPECT_NEAR(*over(-0.25), -42 + 116 + 5 + 0.25, 1e-9);
    const auto lacks = [&](const std::function<void(job::Job&)>& lack) {
        Read without = r;
        lack(without.job);
        return !over_mouth(without.expected().seats[0], without.job, route, stop, 0);
    };
    EXPECT_TRUE(lacks([](job::Job& j) { j.pilots[0].reach.reset(); }));
    EXPECT_TRUE(lacks([](job::Job& j) { j.cutters[0].drop.reset(); }));
    EXPECT_TRUE(lacks([](job::Job& j) { j.guide.intake->to_seat.reset(); }));
    EXPECT_TRUE(lacks([](job::Job& j) { j.guide.intake.reset(); }));
    route.pilot = job::PilotUse::planted;
    EXPECT_NEAR(*over(), -0.44 + 2.2624, 1e-9);
    EXPECT_TRUE(lacks([](job::Job& j) { j.pilots[0].above.reset(); }));
    EXPECT_TRUE(lacks([](job::Job& j) { j.cutters[0].lowest.reset(); }));
    route.pilot = job::PilotUse::none;
    stop.pilot.reset();
    EXPECT_NEAR(*over(), -0.44 + 2.2624 + 5, 1e-9);
    EXPECT_TRUE(lacks([](job::Job& j) { j.cutters[0].lowest.reset(); }));
}

// The gauge plane at 121 over a Z0 of -0.25, the tip 116 lower; the deck lies 12 less 0.20 over the datum.
TEST(Expect, TheToolStandsOverTheDeckByWhatIsLeft) {
    Read r;
    r.job.pilots[0].reach = 136;
    r.job.cutters[0].drop = 20;
    r.job.cutters[0].lowest = 2.2624;
    Route route;
    route.zeros.emplace_back();
    route.zeros[0].taken.valve = 0;
    Stop stop;
    stop.pilot = 0;
    const auto gap = [&] { return over_deck(r.expected(), r.job, route, stop, 121 + 0.25); };
    EXPECT_NEAR(*gap(), 121 - 116 - 11.8, 1e-9);
    for (const auto use : {job::PilotUse::live, job::PilotUse::planted, job::PilotUse::none}) {
        route.pilot = use;
        EXPECT_NEAR(*gap(), 121 - (use == job::PilotUse::live ? 116 : 2.2624) - 11.8, 1e-9);
    }
    route.pilot = job::PilotUse::carried;
    r.job.pilots[0].reach.reset();
    EXPECT_FALSE(gap());
    route.pilot = job::PilotUse::planted;
    r.job.cutters[0].lowest.reset();
    EXPECT_FALSE(gap());
    r.job.cutters[0].lowest = 2.2624;
    route.zeros[0].taken.valve = 9;
    EXPECT_FALSE(gap());

    // On the canted head the axis of 1I pierces the deck up the slope of its guide: 12 less 0.10 along the
    // drawing's z, tan 4 and tan 22 of it aside; turned, that is 11.9·√(1 + tan²4 + tan²22) over the gauge
    // circle.
    Canted c;
    c.job.pilots[0].reach = 136;
    c.job.cutters[0].drop = 20;
    route.pilot = job::PilotUse::carried;
    route.zeros[0].taken.valve = 0;
    const double along = 11.9 * std::sqrt(1 + std::pow(std::tan(rad(4)), 2) + std::pow(std::tan(rad(22)), 2));
    EXPECT_NEAR(*over_deck(c.expected(), c.job, route, stop, 200), 200 - 0.25 - 116 - along, 2e-3);
}

}  // namespace
}  // namespace seatwright::cut
