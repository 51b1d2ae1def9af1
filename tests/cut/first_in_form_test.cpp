// What the readings of a head ask of one cutter's files. Invented data; worked figures of working.md.
#include "seatwright/cut/first_in_form.hpp"

#include <gtest/gtest.h>

#include "job_fixtures.hpp"
#include "seatwright/cut/seat_record.hpp"
#include "spoken.hpp"

namespace seatwright::cut {
namespace {

constexpr double near_mm = 1e-4;

// 1I touched, rho 0.25, d 0.19; 3I rho 0.27, d 0.15.
struct Row {
    job::Job job = fixtures::wedge_job();
    std::size_t one = *job.head.index_of("1I"), three = *job.head.index_of("3I");
    shape::Zero zero;
    std::vector<FormSeat> seats;

    Row() {
        zero.on = shape::ZeroOn::old_seat;
        zero.valve = one;
        seats = {{one, -0.44, 0.19, 0.0825, 1.0, 0.16}, {three, -0.42, 0.15, 0.0825, 1.0, 0.12}};
    }
    FirstInForm first() const { return first_in_form(job, "1", "A", zero, seats); }
    void read(const std::string& valve, double depth) {
        job::FirstSeat reading;
        reading.valve = valve;
        reading.depth = depth;
        job.readings.firsts.push_back(reading);
    }
};

TEST(first_in_form, before_it_is_read) {
    const Row row;
    const FirstInForm first = row.first();
    EXPECT_EQ(first.place, 1U);
    EXPECT_TRUE(first.stops);
    EXPECT_NEAR(first.short_by, 0.10, 1e-12);
    EXPECT_FALSE(first.trim);
    EXPECT_FALSE(first.held);
}

TEST(first_in_form, its_reading_moves_every_stop) {
    Row row;
    row.read("3I", 0.085);
    const FirstInForm first = row.first();
    ASSERT_TRUE(first.trim);
    EXPECT_NEAR(first.trim->shift, 0.0350, near_mm);
    EXPECT_FALSE(first.held);
}

TEST(first_in_form, the_seat_that_was_read_was_the_first) {
    Row row;
    row.job.cut.first = "3I";
    row.read("1I", 0.09);
    EXPECT_EQ(row.first().place, 0U);
    EXPECT_NEAR(row.first().measured->e, 0, near_mm);
}

// 1I carries Z0 and 3I was to be first: Z0 cannot be checked on 1I any more, unless a person chose it so.
TEST(first_in_form, the_touched_seat_read_as_first_makes_zero_void) {
    Row row;
    row.read("1I", 0.09);
    const FirstInForm first = row.first();
    ASSERT_TRUE(first.held);
    EXPECT_EQ(first.held->code, HeldCode::zero_void);
    EXPECT_NE(spoken(first.held->reason).find("3I"), std::string::npos);
    ASSERT_TRUE(first.other);
    row.job.cut.first = "1I";
    EXPECT_FALSE(row.first().held);
    EXPECT_FALSE(row.first().other);
}

// Z0 is taken elsewhere: the seat read may have been chosen by hand, where its depth can be of a first cut.
TEST(first_in_form, another_seat_read_than_the_one_cut_first_is_told) {
    Row row;
    row.zero.on = shape::ZeroOn::deck_point;
    row.zero.valve.reset();
    row.job.cut.first = "3I";
    row.read("1I", 0.09 + 0.05);
    ASSERT_TRUE(row.first().other);
    for (const char* id : {"1I", "3I"}) EXPECT_NE(spoken(*row.first().other).find(id), std::string::npos);
    EXPECT_FALSE(row.first().held);
    row.job.readings.firsts.clear();
    row.read("1I", 0.09 + 0.35);
    row.job.allow.push_back({"trim 1I", "why", "by", 1});
    ASSERT_TRUE(row.first().held);
    EXPECT_NE(spoken(row.first().held->reason).find("3I"), std::string::npos);
    row.job.cut.first = "1I";
    EXPECT_FALSE(row.first().held);
}

// The file that cut it planned 0.05, the job as it is now 0.08: read as planned then, it is no error of Z0.
TEST(first_in_form, a_plan_changed_since_is_asked_about) {
    Row row;
    row.seats[1].depth = 0.18;
    row.read("3I", 0.05);
    job::FirstSeat& reading = row.job.readings.firsts.back();
    EXPECT_NEAR(row.first().trim->shift, -0.03, near_mm) << "nothing is known of another plan";
    reading.earlier = {job::FirstFigure::depth, 0.05};
    FirstInForm first = row.first();
    ASSERT_TRUE(first.held);
    EXPECT_EQ(first.held->code, HeldCode::missing);
    EXPECT_NE(
        spoken(first.held->frees).find(R"(planned = "0.050 mm" in that reading; or planned = "0.080 mm")"),
        std::string::npos)
        << spoken(first.held->frees);
    reading.planned = 0.05;
    EXPECT_FALSE(row.first().held);
    EXPECT_EQ(row.first().trim->shift, 0);
    reading.planned = 0.08;
    EXPECT_NEAR(row.first().trim->shift, -0.03, near_mm);
    reading.planned.reset();
    // As the plan is now, to what a sheet prints; and a figure the reading does not give tells as much.
    reading.earlier = {job::FirstFigure::depth, 0.0808};
    EXPECT_FALSE(row.first().held);
    row.job.seat.intake->stem_height = 45;
    reading.earlier = {job::FirstFigure::stem_height, 45 + 0.42 - 0.10 - 0.03};
    first = row.first();
    ASSERT_TRUE(first.held);
    EXPECT_NE(spoken(first.held->frees).find(R"(planned = "0.050 mm")"), std::string::npos);
}

// Another cutter's first seat had the plan made anew before this one's first file was made.
TEST(first_in_form, a_first_file_of_the_plan_made_anew_is_held_against_that) {
    Row row;
    row.seats[1].depth = 0.18;
    row.seats[1].since_first = 0.03;
    row.read("3I", 0.08);
    EXPECT_NEAR(row.first().trim->e, 0.03, near_mm) << "where nothing is known of the file";
    row.job.readings.firsts.back().earlier = {job::FirstFigure::depth, 0.08};
    EXPECT_FALSE(row.first().held);
    EXPECT_EQ(row.first().trim->shift, 0);
    row.job.readings.firsts.back().earlier = {job::FirstFigure::depth, 0.05};
    EXPECT_NEAR(row.first().trim->shift, 0.03, near_mm);
    row.job.readings.firsts.back().earlier = {job::FirstFigure::depth, 0.12};
    EXPECT_TRUE(row.first().held);
}

// The card's figure of the seat finished, typed for what its first cut left.
TEST(first_in_form, the_finished_figure_is_asked_about) {
    Row row;
    row.job.cut.trim_max = 0.15;
    row.read("3I", 0.15);
    ASSERT_TRUE(row.first().held);
    EXPECT_EQ(row.first().held->code, HeldCode::doubt);
    row.job.readings.firsts.back().sure = true;
    EXPECT_FALSE(row.first().held);
    EXPECT_NEAR(row.first().trim->shift, 0.10, near_mm);
    for (const double near : {0.1475, 0.1525}) {
        row.job.readings.firsts.back().sure = false;
        row.job.readings.firsts.back().depth = near;
        EXPECT_FALSE(row.first().held) << near;
    }
}

// Of another blade: a seat that these files do not cut.
TEST(first_in_form, the_old_blades_trim_is_void) {
    Row row;
    row.read("2I", 0.085);
    EXPECT_FALSE(row.first().trim);
}

// The blade broke in 3I, which had been its first seat: its reading is of the old blade until there is
// another.
TEST(first_in_form, the_seat_begun) {
    Row row;
    row.zero.valve.reset();
    row.seats[1].begun = true;
    row.read("3I", 0.085);
    EXPECT_EQ(row.first().place, 0U);
    EXPECT_FALSE(row.first().trim);
    row.seats.erase(row.seats.begin());
    EXPECT_FALSE(row.first().trim);
    row.read("3I", 0.09);
    ASSERT_TRUE(row.first().trim);
    EXPECT_NEAR(row.first().trim->shift, 0.04, near_mm);
}

TEST(first_in_form, a_large_trim_is_held_back) {
    Row row;
    row.read("3I", 0.20);
    const FirstInForm first = row.first();
    ASSERT_TRUE(first.held);
    EXPECT_EQ(first.held->code, HeldCode::trim_large);
    EXPECT_EQ(first.held->valve, "3I");
    row.job.allow = {{"trim 3I", "burr under the cutter when Z0 was taken", "lead"}};
    EXPECT_FALSE(row.first().held);
    EXPECT_NEAR(row.first().trim->shift, 0.15, near_mm);
}

// 3I went 0.02 past its plan, and the plan was made anew around it, 1I 0.01 deeper: what the first file was
// made from counts for the trim and for which seat was first.
TEST(first_in_form, a_plan_made_anew_changes_no_trim) {
    Row row;
    row.read("3I", 0.17);
    row.job.allow = {{"trim 3I", "looked at", "lead"}};
    const FirstInForm before = row.first();
    ASSERT_TRUE(before.trim);
    EXPECT_NEAR(before.trim->shift, 0.12, near_mm);
    for (FormSeat& seat : row.seats) {
        seat.since_first = seat.valve == row.three ? 0.02 : 0.01;
        seat.depth += seat.since_first;
        seat.stop -= seat.since_first;
    }
    const FirstInForm after = row.first();
    ASSERT_TRUE(after.trim);
    EXPECT_NEAR(after.trim->shift, 0.12, near_mm);
    EXPECT_NEAR(after.measured->depth, 0.17, near_mm);
    EXPECT_NEAR(after.short_by, before.short_by, 1e-12);
    EXPECT_EQ(after.place, before.place);
    EXPECT_FALSE(after.other);
}

TEST(first_in_form, measured_by_height) {
    Row row;
    job::SeatBefore before;
    before.valve = "3I";
    before.stem_height = 47.80;
    row.job.readings.seats.push_back(before);
    job::FirstSeat reading;
    reading.valve = "3I";
    reading.stem_height = 47.885;
    row.job.readings.firsts = {reading};
    EXPECT_NEAR(row.first().measured->e, 0.035, near_mm);
    // Nothing read before: from the drawing, 47.5 + 0.42 finished.
    row.job.readings.seats.clear();
    row.job.readings.firsts[0].stem_height = 47.5 + 0.42 - 0.10 + 0.035;
    EXPECT_NEAR(row.first().measured->e, 0.035, near_mm);
    // Below deck: the drawing's 1.00 less the deck cut, more by what is finished along the axis.
    row.job.seat.intake->below_deck = 1.00;
    row.job.depth.deck_cut = 0.20;
    const double up = row.job.head.valves[row.three].axis().z();
    row.job.readings.firsts[0].stem_height.reset();
    row.job.readings.firsts[0].below_deck = 0.80 + up * (0.42 - 0.10 + 0.035);
    EXPECT_NEAR(row.first().measured->e, 0.035, near_mm);
    // And with the same valve before, read on the deck as it was.
    before.stem_height.reset();
    before.below_deck = 1.30;
    row.job.readings.seats.push_back(before);
    row.job.readings.firsts[0].below_deck = 1.30 - 0.20 + up * (0.15 - 0.10 + 0.035);
    EXPECT_NEAR(row.first().measured->e, 0.035, near_mm);
}

TEST(first_in_form, no_stop_only_where_limits_are_far) {
    Row row;
    row.job.cut.first_stop = false;
    const FirstInForm near = row.first();
    EXPECT_TRUE(near.stops);
    EXPECT_TRUE(near.stop_why);
    for (FormSeat& seat : row.seats) seat.least_depth = 0.02;
    const FirstInForm far = row.first();
    EXPECT_FALSE(far.stops);
    EXPECT_FALSE(far.stop_why);
    EXPECT_EQ(far.short_by, 0);
}

// ------------------------------------------------------------------------ what was cut

TEST(seat_record, a_finished_seat_by_its_depth_or_its_heights) {
    Row row;
    const SeatPlanned planned{.valve = row.one, .old = -0.25, .stop = -0.44, .depth = 0.19};
    EXPECT_FALSE(record_of(row.job, "1", planned).cut);
    row.read("1I", 0.205);
    const SeatRecord by_depth = record_of(row.job, "1", planned);
    EXPECT_TRUE(by_depth.good);
    EXPECT_NEAR(*by_depth.finished, -0.4550, near_mm);
    // What may be the short cut's depth says nothing of the finished seat.
    row.read("1I", 0.10);
    EXPECT_FALSE(record_of(row.job, "1", planned).finished);
    EXPECT_TRUE(record_of(row.job, "1", planned).cut);

    job::SeatBefore before;
    before.valve = "1I";
    before.stem_height = 47.75;
    row.job.readings.seats.push_back(before);
    job::SeatAfter after;
    after.valve = "1I";
    after.stem_height = 47.955;
    row.job.readings.proofs.push_back(after);
    const SeatRecord by_height = record_of(row.job, "1", planned);
    EXPECT_NEAR(*by_height.finished, -0.4550, near_mm);
    EXPECT_GT(by_height.rank, by_depth.rank);
    row.job.readings.proofs[0].runout = 1.0;
    EXPECT_FALSE(record_of(row.job, "1", planned).finished);
    EXPECT_TRUE(record_of(row.job, "1", planned).cut);
}

TEST(seat_record, the_new_blades_zero) {
    shape::ZeroTask task{.head = "1", .setup = "A"};
    Restart restart;
    const auto none = restarted(task, restart);
    ASSERT_FALSE(none);
    EXPECT_EQ(none.error().code, HeldCode::zero_void);
    restart.touch_on = 4;
    EXPECT_EQ(restarted(task, restart)->from, job::DepthFrom::touch);
    EXPECT_EQ(restarted(task, restart)->named, 4U);
    restart.seats = {{6, "4I", SeatState::left, true}, {8, "5I", SeatState::begun, true}};
    task.named = 6;
    EXPECT_EQ(restarted(task, restart)->named, 6U);
    task.named = 8;  // begun: nothing to touch
    EXPECT_EQ(restarted(task, restart)->named, 4U);
    restart.finished_on = 2;
    EXPECT_EQ(restarted(task, restart)->from, job::DepthFrom::finished);
    EXPECT_EQ(restarted(task, restart)->named, 2U);
}

}  // namespace
}  // namespace seatwright::cut
