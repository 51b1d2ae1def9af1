// Special cases of the forecast with their answers: computed beforehand with 18 to 25 digits by adaptive
// quadrature and drawn again with four million heads each, by programs that share nothing with this one. mm
// and degrees; face 45 degrees, gauge circle 48; places count from the midpoint of the posts.
#include <gtest/gtest.h>

#include <cmath>

#include "seatwright/base/units.hpp"
#include "seatwright/forecast/heights.hpp"
#include "seatwright/forecast/integrate.hpp"
#include "seatwright/forecast/points.hpp"
#include "seatwright/forecast/runout.hpp"

namespace seatwright::forecast {
namespace {

constexpr double digits = 2e-10;

Seat plain_seat() {
    Seat seat;
    seat.angle = rad(45);
    seat.gauge = 48;
    return seat;
}

Batch of(std::vector<Seat> seats, const Held& setup = {}) {
    Batch batch;
    batch.setups = {setup};
    batch.zeros = {0};
    batch.seats = std::move(seats);
    return batch;
}

// A head on two posts: clearance of the holes, distance of the posts.
Held on_posts(double clearance, double span) {
    Held setup;
    const double place = clearance / 4, yaw = std::sqrt(2.0) * clearance / (4 * span);
    setup.pose.diagonal() << place * place, place * place, yaw * yaw;
    return setup;
}

double chance(const Batch& batch, Judged judged = Judged::good) {
    CountTables tables;
    return SeatChance(batch, batch.seats.front(), judged, tables)(Vec2::Zero(), Vec2::Zero());
}

// Holds the answer within what the integration claims of itself (95 %, doubled for one case in many).
void expect_rate(const Batch& batch, double wanted, const char* name) {
    const Rates rates = integrated(batch);
    EXPECT_NEAR(rates.good, wanted, std::max(2 * rates.error, digits)) << name;
    EXPECT_LT(rates.error, 5e-4) << name;
}

Batch positioning(double room) {
    Seat seat = plain_seat();
    seat.bend = 0.2;
    seat.runout_max = 0.05;
    seat.room = room;
    Batch batch = of({seat});
    batch.positioning_sd = 0.06;
    return batch;
}

TEST(ForecastCases, PositioningAloneIsRayleigh) {
    EXPECT_NEAR(chance(positioning(0.25)), 0.9869670926, digits);
    EXPECT_NEAR(chance(positioning(0.10)), 0.7506477912, digits);
    // Rayleigh's closed form for the entering alone.
    Batch batch = positioning(0.25);
    batch.seats.front().runout_max.reset();
    EXPECT_NEAR(chance(batch), 1 - std::exp(-0.25 * 0.25 / (2 * 0.06 * 0.06)), digits);
}

TEST(ForecastCases, VerdictAndRisksOfIt) {
    Batch batch = positioning(0.25);
    batch.runout_u = 0.003;
    const Rates rates = integrated(batch);
    ASSERT_TRUE(rates.judged);
    EXPECT_NEAR(rates.pass, 0.9621697068, digits);
    EXPECT_NEAR(rates.fail, 0.0050173814, digits);
    EXPECT_NEAR(rates.consumer, 4.96183e-5, 1e-9);
    EXPECT_NEAR(rates.producer_fail, 6.78409e-5, 1e-9);
    EXPECT_NEAR(rates.producer_fail + rates.producer_undecided, 0.0248470041, digits);
}

TEST(ForecastCases, ResidualAndLevelAreRice) {
    Seat seat = plain_seat();
    seat.residual = {rad(0.03), 0};
    seat.runout_max = 0.05;
    Batch batch = of({seat});
    batch.share = 0.8;
    for (const auto& [level, wanted] : {std::pair(0.02, 0.9998443488), std::pair(0.03, 0.9879461184)}) {
        batch.setups.front().level_sd = rad(level);
        expect_rate(batch, wanted, "level");
    }
    // The same attitude as the guide's own direction: within the closed integral.
    batch.setups.front().level_sd = 0;
    batch.guide_angle_sd = rad(0.03);
    CountTables tables;
    const SeatChance rice(batch, batch.seats.front(), Judged::good, tables);
    EXPECT_NEAR(rice(Vec2::Zero(), rice.lean_of(Vec2::Zero())), 0.9879461184, 1e-8);
}

TEST(ForecastCases, PlayPilotAndGuideDirection) {
    Seat seat = plain_seat();
    seat.play = 0.03;
    seat.runout_max = 0.03;
    EXPECT_NEAR(chance(of({seat})), 0.5, digits) << "half an even disc lies within 1/sqrt 2 of its radius";
    seat.pilot_runout = 0.02;
    EXPECT_NEAR(chance(of({seat})), 0.4928654088, digits) << "the lens of two circles";
    Batch pilot = of({seat}), play = of({seat});
    pilot.guide_angle_sd = play.guide_angle_sd = rad(0.03);
    pilot.seats.front().play = 0;
    play.seats.front().pilot_runout = 0;
    EXPECT_NEAR(chance(pilot), 0.6559936572, digits);
    EXPECT_NEAR(chance(play), 0.4048592439, digits);
}

TEST(ForecastCases, ThePilotsFixedRunoutIsAlwaysTheSame) {
    Seat seat = plain_seat();
    seat.pilot_runout = 0.02;
    for (const auto& [limit, wanted] : {std::pair(0.0141, 0.0), std::pair(0.0142, 1.0)}) {
        seat.runout_max = limit;  // the runout is 0.0141421356
        EXPECT_EQ(chance(of({seat})), wanted);
    }
}

TEST(ForecastCases, ABlindRun) {
    Seat seat = plain_seat();
    seat.room = 0.5;
    seat.from_posts = {300, 40};
    Batch batch = of({seat}, on_posts(0.4, 400));
    batch.casting_sd = 0.08;
    batch.positioning_sd = 0.02;
    expect_rate(batch, 0.9949040004, "guide away from the posts' midpoint");
    batch.seats.front().from_posts = {0, 0};
    expect_rate(batch, 0.9994129944, "guide at it");
}

TEST(ForecastCases, WhatSeatsShareIsNoProduct) {
    Seat near = plain_seat();
    near.room = 0.15;
    near.from_posts = {100, 0};
    Seat far = near;
    far.from_posts = {300, 0};
    Held yaw = on_posts(0.4, 400);
    yaw.pose(0, 0) = yaw.pose(1, 1) = 0;
    Batch batch = of({near, far}, yaw);
    expect_rate(batch, 0.8427007929, "both, through the yaw alone");
    batch.casting_sd = 0.05;
    expect_rate(batch, 0.751180344, "and casting");
}

TEST(ForecastCases, SpreadOfStemHeights) {
    Seat seat = plain_seat();
    seat.planned_height = 0;
    Batch batch = of({seat, seat, seat, seat});
    batch.depth_sd = 0.02;
    batch.stem_spread = 0.06;
    EXPECT_NEAR(integrated(batch).good, 0.8537285190, 1e-6);
    batch.zeros = {0.02};
    for (Seat& s : batch.seats) s.height.high = 0.03;
    expect_rate(batch, 0.5930332192, "with a limit and a zero error");
    batch.stem_spread.reset();
    expect_rate(batch, 0.6528647585, "the limit alone");
}

TEST(ForecastCases, AnEvenStartIsTheSameEveryTime) {
    const auto once = normal_points(3, 64, 2), again = normal_points(3, 64, 2);
    EXPECT_EQ(once, again);
    EXPECT_NE(once, normal_points(3, 64, 3));
    // Every scramble puts one point in each of 64 equal slices of each direction (a (0, m, 1)-net, Owen
    // 1995).
    const auto even = even_points(3, 64, 5);
    for (std::size_t d = 0; d < 3; ++d) {
        std::vector<int> slices(64, 0);
        for (std::size_t i = 0; i < 64; ++i) ++slices[static_cast<std::size_t>(even[i * 3 + d] * 64)];
        EXPECT_EQ(std::count(slices.begin(), slices.end(), 1), 64) << d;
    }
}

}  // namespace
}  // namespace seatwright::forecast
