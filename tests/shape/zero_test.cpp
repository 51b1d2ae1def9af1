// Z zero against the worked figures of working.md (to 1e-4 mm): head canted, setup A, incline 22, cant 4;
// they agree with a second program that knows points only.
#include "seatwright/shape/zero.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "job_fixtures.hpp"
#include "seatwright/shape/deck_holes.hpp"
#include "seatwright/shape/zero_task.hpp"
#include "spoken.hpp"

namespace seatwright::shape {
namespace {

constexpr double near_mm = 1e-4;

struct Canted {
    Vec3 axis = guide_axis(rad(22), rad(4));
    double tilt = std::atan2(axis.y(), std::hypot(axis.x(), axis.z()));
    double swing = -std::atan2(axis.x(), axis.z());
    Mat3 rotation = attitude_rotation(tilt, swing);
    Vec3 p1{-24.5, 9, -12}, p3{211.5, 9, -12};
    double q = 0.10;
    double m1 = 0;
    double m3 = (rotation * (p3 - p1)).z();
    double rho1 = 0.25, rho3 = 0.27, d1 = 0.19, d3 = 0.15;
    double s1 = -rho1 - d1, s3 = -rho3 - d3;
    Vec3 normal = rotation * Vec3::UnitZ();
    Vec3 point = deck_place(rotation, p1, Vec2(60, 40), q);
};

TEST(zero, the_canted_head_stands_as_its_figures_say) {
    const Canted c;
    EXPECT_NEAR(deg(c.tilt), 21.9515, 1e-4);
    EXPECT_NEAR(deg(c.swing), -4, 1e-4);
    EXPECT_NEAR(c.m3, 15.2690, near_mm);
    EXPECT_NEAR(c.axis.z(), 0.925241, 1e-6);
    EXPECT_LT((c.normal - Vec3(-0.069756, -0.372911, 0.925241)).norm(), 2e-6);
}

TEST(zero, touched_on_an_old_seat) {
    const Canted c;
    struct Row {
        double rest, feeler, z1, z3;
    };
    for (const Row& row :
         {Row{0, 0, -0.1900, 15.0990}, Row{0.1812, 0, -0.3712, 14.9178}, Row{0, 0.05, -0.2607, 15.0283}}) {
        const double zeta = zeta_of(OldSeatTouch{c.m1, c.rho1, row.rest, row.feeler, rad(45)});
        EXPECT_NEAR(stop_z(c.m1, c.s1, zeta), row.z1, near_mm) << row.rest << " " << row.feeler;
        EXPECT_NEAR(stop_z(c.m3, c.s3, zeta), row.z3, near_mm) << row.rest << " " << row.feeler;
    }
}

TEST(zero, touched_on_another_seat_with_its_section_read) {
    const Canted c;
    const double zeta = zeta_of(OldSeatTouch{c.m3, c.rho3, -0.0302, 0, rad(45)});
    EXPECT_NEAR(stop_z(c.m3, -c.rho3 - 0.15, zeta), -0.1198, near_mm);
    EXPECT_NEAR(stop_z(c.m1, c.s1, zeta), -15.4088, near_mm);
}

// Restart with a new blade: 1I finished and measured 0.205 deep.
TEST(zero, taken_on_a_finished_seat) {
    const Canted c;
    const double zeta = zeta_of(FinishedSeatTouch{.m = c.m1, .height = -c.rho1 - 0.205});
    EXPECT_NEAR(zeta, -0.4550, near_mm);
    EXPECT_NEAR(stop_z(c.m3, c.s3, zeta), 15.3040, near_mm);
    EXPECT_NEAR(stop_z(c.m1, c.s1, zeta), 0.0150, near_mm);
    // A feeler lifts the cutter off a finished seat as off an old one.
    EXPECT_NEAR(zeta_of(FinishedSeatTouch{.m = c.m1, .height = -0.455, .feeler = 0.05, .angle = rad(45)}),
                -0.4550 + 0.0707, near_mm);
}

TEST(zero, along_the_axis_and_square_to_the_deck) {
    const Canted c;
    const double az = c.axis.z();
    EXPECT_NEAR(deck_to_stop(-12, c.q, az, 0), -12.8615, near_mm);
    EXPECT_NEAR(deck_to_stop(-12, c.q, az, c.s1), -13.3015, near_mm);
    EXPECT_NEAR(deck_to_stop(-12, c.q, az, c.s3), -13.2815, near_mm);
    EXPECT_NEAR(-az * deck_to_stop(-12, c.q, az, c.s1), 12.3071, near_mm);
    EXPECT_NEAR(-az * deck_to_stop(-12, c.q, az, c.s3), 12.2886, near_mm);
    // A height plan, f 0.42.
    EXPECT_NEAR(deck_to_stop(-12, c.q, az, -0.42), -13.2815, near_mm);
}

TEST(zero, on_a_point_of_the_deck) {
    const Canted c;
    EXPECT_LT((c.point - Vec3(83.4641, 22.1114, 28.0659)).norm(), 2 * near_mm);
    const double metal = zeta_of(BallTouch{c.point, c.normal, 0, 0});
    EXPECT_NEAR(stop_z(c.m1, c.s1, metal), -28.5059, near_mm);
    EXPECT_NEAR(stop_z(c.m3, c.s3, metal), -13.2169, near_mm);
    EXPECT_NEAR(stop_z(c.m1, -0.42, metal), -28.4859, near_mm);
    EXPECT_NEAR(stop_z(c.m3, -0.42, metal), -13.2169, near_mm);

    BallTouch ball{c.point, c.normal, 3, 0};
    EXPECT_NEAR(ball_over_metal(ball), 0.2424, near_mm);
    EXPECT_NEAR(zeta_of(ball), 28.3083, near_mm);
    // The centre stands r/n_z over the metal under it; from there r along −n is on the deck.
    const Vec3 contact =
        ball.under + Vec3(0, 0, ball.radius + ball_over_metal(ball)) - ball.radius * ball.normal;
    EXPECT_NEAR(contact.x(), 83.6733, near_mm);
    EXPECT_NEAR(contact.y(), 23.2301, near_mm);
    EXPECT_NEAR((contact - c.point).dot(c.normal), 0, 1e-12);
    EXPECT_NEAR(stop_z(c.m1, c.s1, zeta_of(ball)), -28.7483, near_mm);
    EXPECT_NEAR(stop_z(c.m3, c.s3, zeta_of(ball)), -13.4593, near_mm);
    ball.lowest = 2.2624;
    EXPECT_NEAR(stop_z(c.m1, c.s1, zeta_of(ball)), -31.0107, near_mm);
    EXPECT_NEAR(stop_z(c.m3, c.s3, zeta_of(ball)), -15.7217, near_mm);
}

TEST(zero, by_a_block_on_a_level_deck) {
    const double zeta = zeta_of(BlockTouch{.deck = 0, .block = 25, .lowest = 2.2624});
    EXPECT_NEAR(zeta, 27.2624, near_mm);
    EXPECT_NEAR(stop_z(-3.5, 0, zeta), -30.7624, near_mm);
}

// To one height, touch on 1I: 1I −0.1700, 3I 15.0990; a parallel head's figures from its deck.
TEST(zero, to_one_height) {
    const Canted c;
    const double zeta = zeta_of(OldSeatTouch{.m = c.m1, .recession = c.rho1});
    EXPECT_NEAR(stop_z(c.m1, -0.42, zeta), -0.1700, near_mm);
    EXPECT_NEAR(stop_z(c.m3, -0.42, zeta), 15.0990, near_mm);
    EXPECT_NEAR(stop_z(c.m1, -0.20, zeta), 0.0500, near_mm);  // air: the seat is below its height already
    EXPECT_NEAR(deck_to_stop(-3.40, 0.20, 1, -0.30), -3.5000, near_mm);
}

// The touched seat's recession read 0.1 too deep: that seat is right all the same, the other 0.1 short.
TEST(zero, a_touch_is_blind_to_its_own_seats_reading) {
    const Canted c;
    const double zeta = zeta_of(OldSeatTouch{.m = c.m1, .recession = c.rho1 + 0.10});
    EXPECT_NEAR(stop_z(c.m1, -(c.rho1 + 0.10) - c.d1, zeta), -0.1900, near_mm);
    EXPECT_NEAR(stop_z(c.m3, c.s3, zeta), 15.1990, near_mm);
}

TEST(zero, uncertainty) {
    const Canted c;
    const ZeroSds sds;
    const auto cleanup = job::DepthTo::cleanup, height = job::DepthTo::height;
    const auto on_seat = [&](ZeroOn on, job::DepthTo to, bool the_touched) {
        return 2 * u_of_seat_zero({.on = on, .to = to, .the_touched = the_touched}, sds);
    };
    EXPECT_NEAR(on_seat(ZeroOn::old_seat, cleanup, false), 0.0825, near_mm);
    EXPECT_NEAR(on_seat(ZeroOn::old_seat, cleanup, true), 0.06, near_mm);
    EXPECT_NEAR(on_seat(ZeroOn::finished_seat, cleanup, true), 0.02, near_mm);
    // One height hangs on the touched seat's reading alone, the touched seat's own stop too.
    EXPECT_NEAR(on_seat(ZeroOn::old_seat, height, true), 2 * std::sqrt(0.0013), near_mm);
    EXPECT_NEAR(on_seat(ZeroOn::finished_seat, height, false), 0.02, near_mm);
    const double with = u_of_deck_zero({.to = cleanup, .normal = c.normal, .lever = 22.1}, sds);
    EXPECT_NEAR(2 * with, 0.072, 5e-4);
    const double without = u_of_deck_zero({.to = height, .normal = c.normal, .lever = 22.1}, sds);
    EXPECT_NEAR(with * with - without * without, 0.02 * 0.02, 1e-9);
}

// ------------------------------------------------------------------ what it is taken on

ZeroTask four_in_a_row() {
    const Canted c;
    ZeroTask task{.head = "6", .setup = "A", .cutter = "30-45-60"};
    for (std::size_t i = 0; i < 4; ++i) {
        const Vec3 at = c.rotation * Vec3(118.0 * static_cast<double>(i), 0, 0);
        task.seats.push_back(ZeroSeat{.valve = 2 * i,
                                      .id = std::to_string(i + 1) + "I",
                                      .map = at,
                                      .readout = Vec2(at.x(), at.y()),
                                      .recession = 0.25,
                                      .rest = 0,
                                      .planned = true});
    }
    task.deck.rotation = c.rotation;
    task.deck.datum = c.p1;
    task.deck.deck_cut = c.q;
    return task;
}

TEST(zero_task, the_middle_seat_of_the_row_is_touched) {
    ZeroTask task = four_in_a_row();
    EXPECT_EQ(take_zero(task)->valve, 2U);  // second of four
    task.seats.erase(task.seats.begin());
    EXPECT_EQ(take_zero(task)->valve, 4U);  // middle of three
    task.named = 6;
    EXPECT_EQ(take_zero(task)->valve, 6U);
    task.named = 99;  // another form's seat: not for this cutter
    EXPECT_EQ(take_zero(task)->valve, 4U);
}

TEST(zero_task, one_height_is_touched_on_a_seat_that_was_read) {
    ZeroTask task = four_in_a_row();
    task.to = job::DepthTo::height;
    for (ZeroSeat& seat : task.seats) seat.recession.reset();
    const auto none = take_zero(task);
    ASSERT_FALSE(none);
    EXPECT_EQ(none.error().code, HeldCode::not_measured);
    EXPECT_NE(spoken(none.error().frees).find("2I"), std::string::npos) << spoken(none.error().frees);
    task.seats[3].recession = 0.31;
    const auto zero = take_zero(task);
    ASSERT_TRUE(zero);
    EXPECT_EQ(zero->valve, 6U);
    EXPECT_NEAR(zero->zeta, task.seats[3].map.z() - 0.31, 1e-12);
}

TEST(zero_task, says_how_it_is_taken) {
    ZeroTask task = four_in_a_row();
    task.feeler = 0.05;
    const auto zero = take_zero(task);
    ASSERT_TRUE(zero);
    EXPECT_EQ(spoken(zero->words),
              "Z0 of cutter 1 taken on 2I of head 6: cutter resting on the old seat, pilot in, spindle "
              "stopped, turn the blade by hand until it just drags at its highest place; seat brushed clean; "
              "feeler 0.050 mm between blade and seat");
    EXPECT_EQ(zero->rest, 0.0);
    EXPECT_NEAR(zero->u_worst, 0.0825, near_mm);
    EXPECT_NEAR(zero->u[1], 0.06, near_mm);
    // Heights read by a better gauge: 2·√(0.03² + 0.005² + 0.005²).
    for (ZeroSeat& seat : task.seats) seat.height_u = 0.005;
    EXPECT_NEAR(take_zero(task)->u_worst, 0.0616, near_mm);
    task.seats[1].rest.reset();
    const auto unread = take_zero(task);
    EXPECT_FALSE(unread->rest);
    EXPECT_NE(spoken(unread->words).find("will stop short"), std::string::npos);
    task.without_pilot = true;
    EXPECT_NE(spoken(take_zero(task)->words).find("old seat, no pilot in, spindle"), std::string::npos);
}

TEST(zero_task, a_seat_already_cut_is_no_old_seat) {
    ZeroTask task = four_in_a_row();
    task.seats[1].already_cut = true;
    EXPECT_EQ(take_zero(task)->valve, 4U);
    task.named = 2;
    const auto zero = take_zero(task);
    ASSERT_FALSE(zero);
    EXPECT_EQ(zero.error().code, HeldCode::zero_void);
}

TEST(zero_task, the_last_finished_seat_is_taken) {
    ZeroTask task = four_in_a_row();
    task.from = job::DepthFrom::finished;
    const auto none = take_zero(task);
    ASSERT_FALSE(none);
    EXPECT_EQ(none.error().code, HeldCode::zero_void);
    task.seats[0].finished = -0.455;
    task.seats[0].finished_rank = 1;
    task.seats[2].finished = -0.44;
    task.seats[2].finished_rank = 2;
    const auto last = take_zero(task);
    ASSERT_TRUE(last);
    EXPECT_EQ(last->valve, 4U);
    EXPECT_EQ(last->on, ZeroOn::finished_seat);
    EXPECT_EQ(last->rest, 0.0);
    task.named = 0;
    EXPECT_NEAR(take_zero(task)->zeta, -0.455, 1e-12);
    task.named = 6;  // named, but not finished
    EXPECT_EQ(take_zero(task)->valve, 4U);
}

TEST(zero_task, a_ball_on_the_deck) {
    ZeroTask task = four_in_a_row();
    task.from = job::DepthFrom::deck;
    task.kept = job::ZeroKept::offsets;
    const auto frees = [&] { return spoken(take_zero(task).error().frees); };
    EXPECT_EQ(frees(), "depth.deck_at");
    task.deck.at = Vec2(60, 40);
    EXPECT_EQ(frees(), "machine.ball");
    EXPECT_EQ(take_zero(task).error().code, HeldCode::missing);
    task.deck.ball = 3;
    EXPECT_EQ(frees(), "cutter.lowest");
    task.deck.lowest = 2.2624;
    const auto zero = take_zero(task);
    ASSERT_TRUE(zero);
    EXPECT_EQ(word_of(zero->on), "deck point");
    EXPECT_NEAR(zero->zeta, 28.3083 + 2.2624, near_mm);
    EXPECT_NEAR(zero->at.x(), 83.4641, near_mm);
    EXPECT_FALSE(zero->valve);
    EXPECT_FALSE(zero->rest);
    EXPECT_NEAR(zero->u[0], 0.072, 5e-4);

    task.deck.holes = {{saying("bolt hole 3"), Vec2(60, 50), 13.5}};  // 10 away, 6.75 + 3 are needed
    EXPECT_TRUE(take_zero(task));
    task.deck.ball = 4;
    const auto rim = take_zero(task);
    ASSERT_FALSE(rim);
    EXPECT_EQ(rim.error().code, HeldCode::zero_void);
    EXPECT_NE(spoken(rim.error().reason).find("bolt hole 3"), std::string::npos);
}

TEST(zero_task, openings_of_the_deck) {
    job::Job job = fixtures::wedge_job();
    job::Obstacle plug;
    plug.name = "plug 1";
    plug.centre = Vec3(0, -20, -10);
    plug.diameter = 14;
    plug.incline = rad(-20);
    job.head.obstacles = {plug};
    const auto holes = deck_holes(job);
    ASSERT_EQ(holes.size(), job.head.bolt_holes.size() + 1 + job.head.valves.size());
    const DeckHole& at_plug = holes[job.head.bolt_holes.size()];
    EXPECT_NEAR(at_plug.centre.y(), -20 - 10 * std::tan(rad(20)), 1e-9);
    // Valve 1E at (−22, 4, −9), leaning 19.5 deg: its axis meets the deck at y 4 + 9·tan 19.5 = 7.187.
    const DeckHole& chamber = holes[job.head.bolt_holes.size() + 1];
    EXPECT_EQ(spoken(chamber.name), "the chamber over 1E");
    EXPECT_NEAR(chamber.centre.y(), 7.1871, 1e-4);
    EXPECT_EQ(chamber.diameter, 38.1);
}

TEST(zero_task, a_block_only_on_a_square_deck) {
    ZeroTask task = four_in_a_row();
    task.from = job::DepthFrom::deck;
    task.deck.at = Vec2(60, 40);
    task.deck.block = 25;
    task.deck.lowest = 2.2624;
    const auto crooked = take_zero(task);
    ASSERT_FALSE(crooked);
    EXPECT_EQ(crooked.error().code, HeldCode::zero_void);

    task.deck.rotation = attitude_rotation(rad(0.11), 0);
    EXPECT_FALSE(take_zero(task));
    task.deck.rotation = attitude_rotation(rad(0.09), 0);
    EXPECT_TRUE(take_zero(task));

    task.deck.rotation = Mat3::Identity();
    task.deck.datum = Vec3(0, 0, -3.4);
    task.deck.deck_cut = 0.2;
    const auto zero = take_zero(task);
    ASSERT_TRUE(zero);
    EXPECT_EQ(word_of(zero->on), "block");
    // The new deck stands 3.2 over the datum; the seat's stop 3.5 under it: f = 0.3.
    EXPECT_NEAR(stop_z(0, -0.3, zero->zeta), -30.7624, near_mm);
    EXPECT_NE(spoken(zero->words).find(", 0.200 mm cut off it already,"), std::string::npos)
        << spoken(zero->words);
    task.deck.block.reset();
    EXPECT_EQ(spoken(take_zero(task).error().frees), "depth.block");
}

}  // namespace
}  // namespace seatwright::shape
