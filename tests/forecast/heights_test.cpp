// Stem heights: where a line through all that moves them leaves what is good, against asking of single
// places; limits and spreads without a common zero, and one zero for both kinds, against plain quadrature.
// Inputs invented.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <random>

#include "many_batches.hpp"
#include "seatwright/forecast/good_stretch.hpp"
#include "seatwright/forecast/heights.hpp"
#include "seatwright/forecast/integrate.hpp"

namespace seatwright::forecast {
namespace {

bool good_at(const Batch& b, const std::vector<double>& at, const std::vector<double>& moves, double r) {
    bool good = true;
    for (std::size_t i = 0; i < b.seats.size(); ++i) {
        const double h = at[i] + r * moves[i];
        good = good && h >= b.seats[i].height.low.value_or(-1e9) && h <= b.seats[i].height.high.value_or(1e9);
        for (std::size_t j = 0; j < i; ++j)
            if (b.seats[i].kind == b.seats[j].kind)
                good = good && std::abs(h - at[j] - r * moves[j]) <= b.stem_spread.value_or(1e9);
    }
    return good;
}

TEST(GoodStretch, EndsWhereHeightsCeaseToBeGood) {
    std::mt19937 random(5);
    std::normal_distribution<double> normal;
    int ends = 0, none = 0;
    for (int n = 0; n < 2000; ++n) {
        Batch b = test::full_batch();
        if (n % 3 == 0) b.stem_spread.reset();
        if (n % 5 == 0)
            for (Seat& seat : b.seats) seat.height.low.reset();
        std::vector<double> at, moves;
        for (const Seat& seat : b.seats) {
            at.push_back(*seat.planned_height + 0.06 * normal(random));
            moves.push_back(0.03 * normal(random));
        }
        const GoodStretch found = good_stretch(b, at, moves, 0.005);
        if (found.none) {
            ++none;
            for (double r = -10; r <= 10; r += 0.1) EXPECT_FALSE(good_at(b, at, moves, r)) << n;
            continue;
        }
        constexpr double hair = 1e-9;
        if (std::isfinite(found.high.at)) {
            ++ends;
            EXPECT_TRUE(good_at(b, at, moves, found.high.at - hair * (1 + std::abs(found.high.at))) ||
                        found.high.at - found.low.at < 2e-8)
                << n;
            EXPECT_FALSE(good_at(b, at, moves, found.high.at + hair * (1 + std::abs(found.high.at)))) << n;
            EXPECT_GT(found.high.wide, 0);
            EXPECT_LE(found.high.near, found.high.at);
        }
        if (std::isfinite(found.low.at)) {
            EXPECT_FALSE(good_at(b, at, moves, found.low.at - hair * (1 + std::abs(found.low.at)))) << n;
            EXPECT_GE(found.low.near, found.low.at);
        }
    }
    EXPECT_GT(ends, 1000);
    EXPECT_GT(none, 5);
}

constexpr double infinite = std::numeric_limits<double>::infinity();

double below(double z) {
    return std::erfc(-z / std::numbers::sqrt2) / 2;
}

// The chance of stems cut from no common zero, all within one window and a spread: the integral over the
// lowest by Gauss's five points on pieces of a tenth of a standard deviation and less, with nothing of
// what is tested in it.
double by_plain_quadrature(const std::vector<Stem>& stems, double spread) {
    const double low = stems.front().low, high = stems.front().high, sd = stems.front().sd;
    const auto of_lowest = [&](double x) {
        double sum = 0, before = 1;
        for (const Stem& s : stems) {
            const double z = (x - s.mean) / sd;
            const double inside = below((std::min(x + spread, high) - s.mean) / sd) - below(z);
            sum = sum * inside + before * std::exp(-z * z / 2) / std::sqrt(2 * std::numbers::pi) / sd;
            before *= inside;
        }
        return sum;
    };
    const auto [first, last] = std::minmax_element(
        stems.begin(), stems.end(), [](const Stem& a, const Stem& b) { return a.mean < b.mean; });
    const double from = std::max(low, first->mean - 8 * sd), to = std::min(high, last->mean + 8 * sd);
    constexpr std::array<double, 5> x{-0.9061798459386640, -0.5384693101056831, 0, 0.5384693101056831,
                                      0.9061798459386640},
        w{0.2369268850561891, 0.4786286704993665, 0.5688888888888889, 0.4786286704993665, 0.2369268850561891};
    double all = 0;
    if (from >= to) return 0;  // all are far outside their window
    // In two, where the window's upper end begins to be what limits the highest.
    const double turn = std::clamp(high - spread, from, to);
    for (const auto& [begin, end] : {std::pair(from, turn), std::pair(turn, to)}) {
        const int pieces = static_cast<int>(std::ceil((end - begin) / (sd / 10)));
        for (int p = 0; p < pieces; ++p)
            for (std::size_t k = 0; k < x.size(); ++k)
                all += (end - begin) / pieces / 2 * w[k] *
                       of_lowest(begin + (end - begin) / pieces * (p + 0.5 + x[k] / 2));
    }
    return all;
}

// The chance of one kind at a common lift.
double kind_at(const Batch& b, job::Kind kind, double lift) {
    std::vector<Stem> stems;
    for (const Seat& seat : b.seats)
        if (seat.kind == kind)
            stems.push_back({*seat.planned_height + lift, std::hypot(b.height_sd, b.depth_sd),
                             seat.height.low.value_or(-1e3), seat.height.high.value_or(1e3)});
    return by_plain_quadrature(stems, *b.stem_spread);
}

Batch heights_alone() {
    Batch b = test::still_batch();
    b.depth_sd = 0.03;
    for (Seat& seat : b.seats) {
        seat.height = {46.98, 47.10};
        seat.runout_max.reset();
        seat.width_tol.reset();
        seat.room.reset();
    }
    b.stem_spread = 0.09;  // narrower than the window: both count
    return b;
}

TEST(Heights, LimitsAndSpreadWithoutAZero) {
    const Batch b = heights_alone();
    const double wanted = kind_at(b, job::Kind::intake, 0) * kind_at(b, job::Kind::exhaust, 0);
    ASSERT_GT(wanted, 0.05);
    ASSERT_LT(wanted, 0.95);
    const Rates rates = integrated(b);
    EXPECT_NEAR(rates.good, wanted, rates.error);
    EXPECT_LE(rates.error, 2e-6);
}

// Heads of 4 to 32 seats of one kind in one setup: what is said of the error holds, for a window with both
// ends and with one, narrower and wider than the spread.
TEST(Heights, ManySeatsOfAKindWithoutAZero) {
    std::mt19937 random(11);
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> even;
    Effort rate_alone;
    rate_alone.verdict_points = 0;
    for (const int many : {2, 4, 8, 16, 32})
        for (int n = 0; n < 20; ++n) {
            Batch b = heights_alone();
            const Seat like = b.seats.front();
            b.seats.assign(static_cast<std::size_t>(many), like);
            const double sd = b.depth_sd, middle = 47.05;
            Window window{middle - sd * (0.5 + 2.5 * even(random)), middle + sd * (0.5 + 2.5 * even(random))};
            if (n % 2 == 0) window.low.reset();
            b.stem_spread = sd * (1.5 + 3.5 * even(random));
            for (Seat& seat : b.seats) {
                seat.planned_height = middle + (n % 3 == 0 ? 0 : 0.02 * normal(random));
                seat.height = window;
            }
            const double wanted = kind_at(b, like.kind, 0);
            const Rates rates = integrated(b, rate_alone);
            EXPECT_NEAR(rates.good, wanted, rates.error) << many << " seats, " << n;
            EXPECT_LE(rates.error, 2e-6) << many << " seats, " << n;
            // The integral that points and lines ask.
            std::vector<Stem> stems;
            for (const Seat& seat : b.seats)
                stems.push_back({*seat.planned_height, sd, window.low.value_or(-infinite), *window.high});
            EXPECT_NEAR(heights_good(stems, *b.stem_spread), wanted, 5e-6) << many << " seats, " << n;
        }
}

TEST(Heights, OneZeroForBothKinds) {
    Batch b = heights_alone();
    for (Seat& seat : b.seats) seat.zero = 0;
    for (const double sd : {0.004, 0.02, 0.06}) {
        b.zeros = {sd, 0};
        // The zero by the trapezoidal rule over ±8 sd, which for a normal weight is as good as exact.
        double wanted = 0, weights = 0;
        for (int k = -400; k <= 400; ++k) {
            const double z = 0.02 * k, weight = std::exp(-0.5 * z * z);
            wanted += weight * kind_at(b, job::Kind::intake, sd * z) * kind_at(b, job::Kind::exhaust, sd * z);
            weights += weight;
        }
        const Rates rates = integrated(b);
        EXPECT_NEAR(rates.good, wanted / weights, rates.error) << sd;
        EXPECT_LE(rates.error, 1e-5) << sd;
    }
}

}  // namespace
}  // namespace seatwright::forecast
