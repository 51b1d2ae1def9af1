// First seat, trim and restart against the worked figures of working.md (to 1e-4 mm).
#include "seatwright/cut/first_seat.hpp"

#include <gtest/gtest.h>

#include <utility>

#include "seatwright/cut/restart.hpp"
#include "spoken.hpp"

namespace seatwright::cut {
namespace {

constexpr double near_mm = 1e-4;
const job::CutRules rules;

job::FirstSeat depth_read(double depth) {
    job::FirstSeat reading;
    reading.valve = "3I";
    reading.depth = depth;
    return reading;
}

// 3I first, 0.10 short: stop 15.0990 + 0.1000, planned depth 0.05; read 0.085: e +0.0350, new stop 15.1340.
TEST(first_seat, the_worked_trim) {
    const double stop = 15.0990;
    const double short_ = short_by(rules, 0.15);
    EXPECT_NEAR(stop + short_, 15.1990, near_mm);
    const auto reading = depth_read(0.085);
    const auto m = measured(reading, {.depth = 0.15, .short_by = short_});
    ASSERT_TRUE(m);
    EXPECT_NEAR(m->e, 0.0350, near_mm);
    EXPECT_NEAR(m->u, 0.0283, near_mm);
    const Trim trim = trim_of(rules, reading, *m, LargeTrim::held_back);
    EXPECT_NEAR(stop + trim.shift, 15.1340, near_mm);
    EXPECT_EQ(spoken(trim.words), "trim +0.0350 is in this file: do not move Z0");
}

// The plan was changed after the first file: e is off what its sheet planned, the cut stands where it stands.
TEST(first_seat, a_plan_changed_since_moves_no_stop) {
    auto reading = depth_read(0.05);
    const FirstPlanned now{
        .depth = 0.22, .short_by = 0.10, .stem_height = 44.37, .below_deck = 1.22, .axis = 0.9};
    EXPECT_NEAR(measured(reading, now)->e, -0.07, near_mm);
    reading.planned = 0.05;
    EXPECT_NEAR(measured(reading, now)->e, 0, near_mm);
    EXPECT_NEAR(measured(reading, now)->depth, 0.05, near_mm);
    job::FirstSeat stem;
    stem.stem_height = 44.235;
    stem.planned = 44.20;
    EXPECT_NEAR(measured(stem, now)->e, 0.035, near_mm);
    EXPECT_NEAR(measured(stem, now)->depth, 0.12 + 44.235 - 44.27, near_mm);
    job::FirstSeat below;
    below.below_deck = 1.09;
    below.planned = 1.00;
    EXPECT_NEAR(measured(below, now)->e, 0.1, near_mm);
}

TEST(first_seat, within_the_gauge_nothing_moves) {
    const auto reading = depth_read(0.03);
    const auto m = measured(reading, {.depth = 0.15, .short_by = 0.10});
    EXPECT_NEAR(m->e, -0.020, near_mm);
    const Trim trim = trim_of(rules, reading, *m, LargeTrim::held_back);
    EXPECT_EQ(trim.shift, 0);
    EXPECT_FALSE(trim.too_large);
    // The same with a better gauge does move: U = 2·√2·0.005 = 0.0141.
    auto fine = reading;
    fine.gauge_u = 0.005;
    const auto better = measured(fine, {.depth = 0.15, .short_by = 0.10});
    EXPECT_NEAR(better->u, 0.0141, near_mm);
    EXPECT_NEAR(trim_of(rules, fine, *better, LargeTrim::held_back).shift, -0.020, near_mm);
}

// The touched seat's recession misread by +0.10: 3I comes out 0.10 short, and its reading says so: −0.05 + 0.
TEST(first_seat, a_misread_touched_seat_is_seen_on_the_first_seat_alone) {
    // Cut 0.10 short of a stop that is 0.10 short of the plan: depth −0.05 is air, the gauge reads 0.
    const auto air = measured(depth_read(0.0), {.depth = 0.15, .short_by = 0.10});
    EXPECT_NEAR(air->e, -0.05, near_mm);
    // A deeper cut shows all of it.
    const auto reading = depth_read(0.20);
    const auto all = measured(reading, {.depth = 0.40, .short_by = 0.10});
    EXPECT_NEAR(all->e, -0.10, near_mm);
    EXPECT_NEAR(trim_of(rules, reading, *all, LargeTrim::held_back).shift, -0.10, near_mm);
}

TEST(first_seat, a_large_trim_is_held_back_unless_allowed) {
    const auto reading = depth_read(0.17);
    const auto m = measured(reading, {.depth = 0.15, .short_by = 0.10});
    const Trim held = trim_of(rules, reading, *m, LargeTrim::held_back);
    EXPECT_TRUE(held.too_large);
    EXPECT_EQ(held.shift, 0);
    job::Job job;
    EXPECT_EQ(large_trim(job, "3I"), LargeTrim::held_back);
    job.allow = {{"trim 3I", "deck zero was on a burr", "lead"}};
    EXPECT_EQ(large_trim(job, "3I"), LargeTrim::allowed);
    EXPECT_EQ(large_trim(job, "1I"), LargeTrim::held_back);
    const Trim let = trim_of(rules, reading, *m, large_trim(job, "3I"));
    EXPECT_FALSE(let.too_large);
    EXPECT_NEAR(let.shift, 0.12, near_mm);
    // Just trim_max is still taken.
    const auto edge = measured(depth_read(0.15), {.depth = 0.15, .short_by = 0.10});
    EXPECT_FALSE(trim_of(rules, depth_read(0.15), *edge, LargeTrim::held_back).too_large);
}

TEST(first_seat, trimmed_at_the_control_no_file_is_shifted) {
    auto reading = depth_read(0.085);
    reading.trimmed = job::TrimmedAt::control;
    const auto m = measured(reading, {.depth = 0.15, .short_by = 0.10});
    const Trim trim = trim_of(rules, reading, *m, LargeTrim::held_back);
    EXPECT_TRUE(trim.at_control);
    EXPECT_EQ(trim.shift, 0);
    EXPECT_NEAR(trim.e, 0.035, near_mm);
}

TEST(first_seat, by_stem_height_and_below_deck) {
    job::FirstSeat stem;
    stem.valve = "3I";
    stem.stem_height = 51.405;
    const FirstPlanned planned{
        .depth = 0.15, .short_by = 0.10, .stem_height = 51.47, .below_deck = 1.27, .axis = 0.999};
    EXPECT_NEAR(measured(stem, planned)->e, 0.035, near_mm);
    EXPECT_NEAR(measured(stem, planned)->depth, 0.085, near_mm);
    job::FirstSeat deck;
    deck.below_deck = 1.27 + 0.999 * (0.035 - 0.10);
    EXPECT_NEAR(measured(deck, planned)->e, 0.035, near_mm);
    EXPECT_FALSE(measured(stem, {.depth = 0.15, .short_by = 0.1}));
}

TEST(first_seat, which_one) {
    // Finished lowest: place 2; but it has the least room. Then place 1.
    std::vector<FirstCandidate> row{
        {0, -0.44, 1.0, false}, {2, -0.46, 1.0, false}, {4, -0.50, 0.2, false}, {6, -0.48, 1.0, true}};
    EXPECT_EQ(first_of(row, std::nullopt), 1U);
    EXPECT_EQ(first_of(row, 6), 3U);  // a person chose the touched one
    EXPECT_EQ(first_of(row, 99), 1U);
    row[2].room.reset();  // no limit: now place 0 and 1 have the least room
    EXPECT_EQ(first_of(row, std::nullopt), 2U);
    EXPECT_EQ(first_of({{0, -0.44, 1.0, true}, {2, -0.42, 1.0, false}}, std::nullopt), 1U);
    EXPECT_EQ(first_of({{0, -0.44, 1.0, true}}, std::nullopt), 0U);
    EXPECT_FALSE(first_of({}, std::nullopt));
    // One height, equal room: the first of equals.
    EXPECT_EQ(first_of({{0, -0.42, 1.0, true}, {2, -0.42, 1.0, false}, {4, -0.42, 1.0, false}}, {}), 1U);
}

TEST(first_seat, a_thin_cut_is_not_cut_short_of_the_metal) {
    EXPECT_NEAR(short_by(rules, 0.19), 0.10, 1e-12);
    EXPECT_NEAR(short_by(rules, 0.13), 0.10, 1e-12);
    EXPECT_NEAR(short_by(rules, 0.08), 0.05, 1e-12);
    EXPECT_EQ(short_by(rules, 0.02), 0);
}

// A cleanup margin of 0.03 asks for the stop after every touch (U 0.0825); one height from a finished seat
// does not.
TEST(first_seat, when_the_stop_may_go) {
    const auto cleanup = job::DepthTo::cleanup, height = job::DepthTo::height;
    using shape::ZeroOn;
    EXPECT_FALSE(stop_may_go({{0.0825, 1.0, 0.03}}, cleanup, ZeroOn::old_seat));
    EXPECT_TRUE(stop_may_go({{0.0825, 1.0, 0.10}}, cleanup, ZeroOn::old_seat));
    EXPECT_FALSE(stop_may_go({{0.0825, 0.08, 0.10}}, cleanup, ZeroOn::old_seat));
    EXPECT_TRUE(stop_may_go({{0.02, 1.0, 0.03}}, cleanup, ZeroOn::finished_seat));
    EXPECT_TRUE(stop_may_go({{0.02, 0.01, {}}}, height, ZeroOn::finished_seat));
    EXPECT_FALSE(stop_may_go({{0.072, 0.05, {}}}, height, ZeroOn::deck_point));
}

TEST(first_seat, the_later_reading_counts) {
    job::Job job;
    job.readings.firsts = {depth_read(0.05), depth_read(0.07)};
    EXPECT_EQ(first_reading(job, "1", "3I"), &std::as_const(job.readings.firsts)[1]);
    EXPECT_EQ(first_reading(job, "2", "3I"), nullptr);
    EXPECT_EQ(first_reading(job, "1", "1I"), nullptr);
}

// ----------------------------------------------------------------------------- restart

// 1I finished, measured 0.205 deep under ρ 0.25; planned 0.19.
TEST(restart, the_worked_measured_depth) {
    FinishedFrom from{.old = -0.25, .first_depth = 0.205, .planned_depth = 0.19, .short_by = 0.10};
    EXPECT_NEAR(*finished_height(from), -0.4550, near_mm);
    // By the heights of one valve before and after.
    EXPECT_NEAR(*finished_height({.old = -0.25, .stem_before = 51.25, .stem_after = 51.455}), -0.455,
                near_mm);
    // What may be a reading of the short cut says nothing of the finished seat, unless it is named.
    from.first_depth = 0.125;
    EXPECT_FALSE(finished_height(from));
    from.named = true;
    EXPECT_NEAR(*finished_height(from), -0.375, near_mm);
    // Found good in a plan to one height.
    EXPECT_NEAR(*finished_height({.one_height = -0.42, .good = true}), -0.42, 1e-12);
    EXPECT_FALSE(finished_height({.one_height = -0.42}));
    EXPECT_FALSE(finished_height({}));
}

std::vector<SeatSaid> five() {
    std::vector<SeatSaid> order;
    for (std::size_t i = 0; i < 5; ++i)
        order.push_back({.valve = 2 * i, .id = std::to_string(i + 1) + "I", .old = -0.25});
    return order;
}

TEST(restart, what_is_cut_and_what_is_left) {
    auto order = five();
    order[0].cut = order[0].good = true;
    order[0].finished = -0.44;
    order[1].cut = order[1].good = true;
    order[1].finished = -0.43;
    const Restart restart = restart_of(order, 3);
    EXPECT_EQ(restart.seats[1].state, SeatState::good);
    EXPECT_EQ(restart.seats[2].state, SeatState::measure_again);  // cut, nobody measured it
    EXPECT_EQ(restart.seats[3].state, SeatState::begun);
    EXPECT_EQ(restart.seats[4].state, SeatState::left);
    EXPECT_EQ(restart.finished_on, 2U);  // the last one good
    EXPECT_FALSE(restart.touch_on);
    EXPECT_EQ(
        spoken(restart.words()),
        "cut and measured good: 1I, 2I; cut since the last good reading, measure again: 3I; begun (look "
        "for blade in the seat; may be deeper than its stop): 4I; left: 5I");
}

TEST(restart, on_an_uncut_seat_with_a_height_else_nothing) {
    auto order = five();
    order[1].cut = true;  // measured, and not good
    Restart restart = restart_of(order, 2);
    EXPECT_EQ(restart.seats[1].state, SeatState::measure_again);
    EXPECT_FALSE(restart.finished_on);
    EXPECT_EQ(restart.touch_on, 6U);
    order[3].old.reset();
    EXPECT_EQ(restart_of(order, 2).touch_on, 8U);
    order[4].old.reset();
    EXPECT_TRUE(restart_of(order, 2).zero_void());
}

// A seat is cut only when a person said so: picking seats says nothing of the others.
TEST(restart, seats_only_picked) {
    auto order = five();
    order[2].cut = order[2].good = true;
    order[2].finished = -0.44;
    const Restart restart = restart_of(order, std::nullopt);
    EXPECT_EQ(restart.seats[0].state, SeatState::left);
    EXPECT_EQ(restart.seats[2].state, SeatState::good);
    EXPECT_EQ(restart.finished_on, 4U);
}

TEST(restart, a_reading_after_is_good_within_its_limits) {
    job::SeatForm form;
    form.width = 1.5;
    form.width_tol = 0.2;
    form.runout_max = 0.05;
    form.stem_height_max = 51.6;
    job::Job job;
    const auto reading = [&](auto fill) {
        job::SeatAfter after;
        after.valve = "1I";
        fill(after);
        job.readings.proofs.push_back(after);
        return after_reading(job, "1", "1I", form);
    };
    EXPECT_FALSE(after_reading(job, "1", "1I", form).cut);
    AfterReading seen = reading([](job::SeatAfter& a) { a.runout = 0.03; });
    EXPECT_TRUE(seen.cut);
    EXPECT_TRUE(seen.good);
    seen = reading([](job::SeatAfter& a) { a.stem_height = 51.455; });
    EXPECT_TRUE(seen.good);
    EXPECT_EQ(seen.stem_height, 51.455);
    EXPECT_FALSE(reading([](job::SeatAfter& a) { a.width = {1.5, 1.8}; }).good);
    EXPECT_TRUE(reading([](job::SeatAfter& a) { a.width = {1.5}; }).good);  // measured again
    EXPECT_FALSE(reading([](job::SeatAfter& a) { a.trace = {0, 0.04, 0.06}; }).good);
    EXPECT_FALSE(after_reading(job, "2", "1I", form).cut);
}

}  // namespace
}  // namespace seatwright::cut
