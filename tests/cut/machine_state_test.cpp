// The state of spindle, float and height by itself, event by event; and the words that are looked for in
// comments.
#include "seatwright/cut/machine_state.hpp"

#include <gtest/gtest.h>

#include "seatwright/cut/readback_words.hpp"
#include "seatwright/cut/seat_watch.hpp"

namespace seatwright::cut {
namespace {

struct Shop {
    job::Job job;
    Route route;
    Shop(const char* free, const char* lock, const char* centre) {
        job.machine.tool_float = job::Float{job::Float::Kind::commanded, free, lock, centre};
    }
    MachineState state() const { return {job, route}; }
};

Modes turning(double rpm) {
    Modes modes;
    modes.spindle = Spindle::clockwise;
    modes.rpm = rpm;
    return modes;
}

TEST(MachineState, AFloatIsFitToGoAcrossOnceCentredAndLocked) {
    const Shop shop("M62", "M63", "M64");
    MachineState state = shop.state();
    EXPECT_TRUE(state.float_commanded());
    EXPECT_FALSE(state.float_fit_to_go_across());
    EXPECT_EQ(state.lock_float(), "");
    EXPECT_FALSE(state.float_fit_to_go_across());
    EXPECT_NE(state.centre_float(true).find("locked"), std::string::npos);
    EXPECT_EQ(state.free_float(), "");
    EXPECT_NE(state.centre_float(false), "");
    EXPECT_EQ(state.centre_float(true), "");
    EXPECT_EQ(state.lock_float(), "");
    EXPECT_TRUE(state.float_fit_to_go_across());
    EXPECT_EQ(state.free_float(), "");
    EXPECT_TRUE(state.float_free());
    EXPECT_EQ(state.lock_float(), "");
    EXPECT_TRUE(state.float_locked());
    EXPECT_FALSE(state.float_fit_to_go_across());  // locked where it happened to stand
    EXPECT_EQ(state.free_float(), "");
    EXPECT_EQ(state.centre_float(true), "");
    EXPECT_EQ(state.lock_float(), "");
    state.into_guide();
    EXPECT_FALSE(state.float_fit_to_go_across());
}

TEST(MachineState, SpringsHoldTheMiddleTillAGuidePullsTheToolAway) {
    const Shop shop("M62", "M63", "self");
    MachineState state = shop.state();
    EXPECT_TRUE(state.float_fit_to_go_across());
    EXPECT_EQ(state.free_float(), "");
    EXPECT_TRUE(state.float_fit_to_go_across());
    state.into_guide();
    EXPECT_FALSE(state.float_fit_to_go_across());
    EXPECT_EQ(state.lock_float(), "");
    state.out_of_guide();
    EXPECT_FALSE(state.float_fit_to_go_across());  // locked aside
    EXPECT_EQ(state.free_float(), "");
    state.out_of_guide();
    EXPECT_TRUE(state.float_fit_to_go_across());
}

// The springs have it back once the tip is out, not as soon as the blade is off the seat.
TEST(SeatWatch, SpringsCentreOnceTheTipIsOut) {
    Shop shop("M62", "M63", "self");
    shop.job.machine.spin_up = shop.job.machine.spin_down = 0;
    Stop stop;
    stop.pilot = 0;
    stop.z = 0;
    stop.finish_from = 0.05;
    stop.approach = 1;
    stop.over_mouth = 80;
    stop.rpm = 300;
    stop.feed = stop.finish_feed = 0.1;
    MachineState state = shop.state();
    SeatWatch watch(shop.job, shop.route, stop, 80, 1e-4);
    const double slow = shop.job.cut.enter_feed;
    EXPECT_EQ(state.free_float(), "");
    EXPECT_EQ(watch.feed(state, {80, 1, slow, 0}), "");
    EXPECT_FALSE(state.float_fit_to_go_across());
    EXPECT_EQ(state.spindle(turning(300)), "");
    EXPECT_EQ(watch.feed(state, {1, 0.05, 0.1, 300}), "");
    EXPECT_EQ(watch.feed(state, {0.05, 0, 0.1, 300}), "");
    EXPECT_EQ(watch.dwell(state, 0, 0), "");
    EXPECT_EQ(watch.feed(state, {0, 1, 0.1, 300}), "");
    EXPECT_FALSE(state.float_fit_to_go_across());
    EXPECT_EQ(state.spindle({}), "");
    EXPECT_EQ(watch.feed(state, {1, 4, 1, 0}), "");
    EXPECT_FALSE(state.float_fit_to_go_across());
    EXPECT_EQ(watch.feed(state, {4, 80, slow, 0}), "");
    EXPECT_TRUE(state.float_fit_to_go_across());
    EXPECT_TRUE(watch.done());
}

TEST(MachineState, WithoutAFloatToMoveNothingIsAsked) {
    Shop shop("M62", "M63", "M64");
    for (const auto kind : {job::Float::Kind::none, job::Float::Kind::soft}) {
        shop.job.machine.tool_float->kind = kind;
        MachineState state = shop.state();
        EXPECT_FALSE(state.float_commanded());
        EXPECT_TRUE(state.float_fit_to_go_across());
        EXPECT_TRUE(state.float_free() && state.float_locked());
        EXPECT_NE(state.free_float().find("nobody moves"), std::string::npos);
    }
    shop.job.machine.tool_float.reset();
    EXPECT_FALSE(shop.state().float_commanded());
}

TEST(MachineState, NothingIsFreedLockedCentredOrChangedWhileItTurns) {
    Shop shop("M62", "M63", "M64");
    MachineState state = shop.state();
    state.at_top();
    EXPECT_EQ(state.spindle(turning(300)), "");
    EXPECT_NE(state.free_float(), "");
    EXPECT_NE(state.lock_float(), "");
    EXPECT_NE(state.centre_float(true).find("turns"), std::string::npos);
    EXPECT_NE(state.changed(2).find("turning"), std::string::npos);
    EXPECT_EQ(state.spindle({}), "");
    EXPECT_EQ(state.free_float(), "");
    EXPECT_EQ(state.changed(2), "");
    // A live pilot may turn on its way in as fast as it is let in, and no faster.
    shop.job.cut.entry_rpm = 100;
    EXPECT_EQ(shop.state().turning_to_cut(), false);
    for (const auto use : {job::PilotUse::carried, job::PilotUse::live})
        for (const double rpm : {100.0, 101.0}) {
            shop.route.pilot = use;
            MachineState in = shop.state();
            EXPECT_EQ(in.spindle(turning(rpm)), "");
            EXPECT_EQ(in.turning_to_cut(), use != job::PilotUse::live || rpm > 100) << rpm;
        }
}

TEST(MachineState, TheSpindleKeepsToTheMachine) {
    Shop shop("M62", "M63", "M64");
    MachineState state = shop.state();
    EXPECT_EQ(state.spindle(turning(99999)), "");  // no limit is known
    shop.job.machine.rpm_max = 1500;
    EXPECT_EQ(state.spindle(turning(1500)), "");
    EXPECT_NE(state.spindle(turning(1501)).find("faster"), std::string::npos);
    EXPECT_EQ(state.spindle(turning(1)), "");
    shop.job.machine.rpm_min = 60;
    EXPECT_EQ(state.spindle(turning(60)), "");
    EXPECT_NE(state.spindle(turning(59)).find("slower"), std::string::npos);
    Modes back = turning(300);
    back.spindle = Spindle::counterclockwise;
    EXPECT_NE(state.spindle(back).find("backwards"), std::string::npos);
    state.dwelt(2);
    EXPECT_EQ(state.settled(), 2);
    EXPECT_EQ(state.spindle({}), "");
    EXPECT_EQ(state.settled(), 0);
}

TEST(MachineState, HeightIsKnownAndZ0TrustedOnlyAfterWhatSaysSo) {
    const Shop shop("M62", "M63", "M64");
    MachineState state = shop.state();
    EXPECT_EQ(state.standing(), Standing::anywhere);
    EXPECT_NE(state.changed(1), "");  // not above everything
    state.at_top();
    EXPECT_EQ(state.standing(), Standing::top);
    EXPECT_EQ(state.changed(1), "");
    EXPECT_EQ(state.standing(), Standing::anywhere);
    EXPECT_FALSE(state.zero_trusted());
    state.halted(true, false);
    EXPECT_TRUE(state.zero_trusted());
    EXPECT_EQ(state.changed(2), "");  // still up there
    state.at_clear_height();
    EXPECT_EQ(state.standing(), Standing::known);
    EXPECT_NE(state.changed(2), "");
    state.halted(false, false);
    EXPECT_EQ(state.standing(), Standing::anywhere);
    EXPECT_TRUE(state.zero_trusted());
    EXPECT_NE(state.changed(2), "");
    state.halted(false, true);  // by hand
    EXPECT_EQ(state.changed(2), "");
}

TEST(ReadbackWords, AWordStandsByItself) {
    EXPECT_TRUE(has_word("held back: 3E, 4E", "3E"));
    EXPECT_TRUE(has_word("3E", "3E"));
    EXPECT_FALSE(has_word("13E", "3E"));
    EXPECT_FALSE(has_word("3Ea", "3E"));
    EXPECT_TRUE(has_word("13E 3Ea 3E", "3E"));
    EXPECT_FALSE(has_word("anything", ""));
    EXPECT_EQ(number_after("At Z -12.5 mm", "At Z "), -12.5);
    EXPECT_FALSE(number_after("At Z -12.5 mm", "At X "));
    EXPECT_FALSE(number_after("12.5", "At Z "));
    EXPECT_FALSE(number_after("At Z high", "At Z "));
    EXPECT_EQ(valve_announced(" valve 3I, seat 1 of 8"), "3I");
    EXPECT_EQ(valve_announced("seat 1 of 8"), "");
    EXPECT_EQ(fault_of_comment("1,5 mm: x-y + 2 = 'z' ?"), "");
    EXPECT_NE(fault_of_comment("50 %"), "");
    EXPECT_NE(fault_of_comment("\xc3\xa9"), "");
}

}  // namespace
}  // namespace seatwright::cut
