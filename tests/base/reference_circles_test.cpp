// Reference circles of a trace against a linear program by Clp, closed forms and published profiles.
#include "seatwright/base/numerics/reference_circles.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <coin/ClpSimplex.hpp>
#include <coin/CoinPackedMatrix.hpp>
#include <random>

#include "seatwright/base/units.hpp"

namespace seatwright::numerics {
namespace {

std::vector<double> even_angles(std::size_t n) {
    std::vector<double> out;
    for (std::size_t i = 0; i < n; ++i)
        out.push_back(2 * pi * static_cast<double>(i) / static_cast<double>(n));
    return out;
}

// The oracle: dense rows handed to Clp, an open simplex code that shares nothing with the exchange.
struct Program {
    std::vector<double> cost;
    std::vector<std::vector<double>> rows;
    std::vector<double> least;
};

double solve_by_clp(const Program& p) {
    const int columns = static_cast<int>(p.cost.size());
    ClpSimplex model;
    model.setLogLevel(0);
    model.resize(0, columns);
    for (int c = 0; c < columns; ++c) {
        model.setObjectiveCoefficient(c, p.cost[static_cast<std::size_t>(c)]);
        model.setColumnBounds(c, -COIN_DBL_MAX, COIN_DBL_MAX);
    }
    std::vector<int> index;
    for (int c = 0; c < columns; ++c) index.push_back(c);
    for (std::size_t i = 0; i < p.rows.size(); ++i)
        model.addRow(columns, index.data(), p.rows[i].data(), p.least[i], COIN_DBL_MAX);
    model.setPrimalTolerance(1e-10);
    model.setDualTolerance(1e-10);
    // With its own scaling on, the dual method of 1.17.6 was seen to stop 1.7e-4 short of the optimum (found
    // by trying every triple of points) and to call that optimal; without scaling it does not.
    model.scaling(0);
    model.dual();
    EXPECT_EQ(model.status(), 0);
    return model.objectiveValue();
}

double zone_width_by_clp(const Turn& t) {
    Program p{{1, 0, 0, 0}, {}, {}};
    for (std::size_t i = 0; i < t.size(); ++i)
        for (const double side : {1.0, -1.0}) {
            p.rows.push_back({1, side, side * t.cos[i], side * t.sin[i]});
            p.least.push_back(side * t.r[i]);
        }
    return 2 * solve_by_clp(p);
}

double enclosing_radius_by_clp(const Turn& t, double sign) {
    Program p{{1, 0, 0}, {}, {}};
    for (std::size_t i = 0; i < t.size(); ++i) {
        p.rows.push_back({1, t.cos[i], t.sin[i]});
        p.least.push_back(sign * t.r[i]);
    }
    return sign * solve_by_clp(p);
}

std::vector<Turn> random_turns(std::size_t count, unsigned seed) {
    std::mt19937_64 random(seed);
    std::uniform_real_distribution<double> unit(0, 1);
    std::normal_distribution<double> normal;
    std::vector<Turn> out;
    for (std::size_t k = 0; k < count; ++k) {
        const auto n = static_cast<std::size_t>(8 + unit(random) * 120);
        std::vector<double> angles, r;
        const bool even = k % 3 == 0;
        const double gap = k % 3 == 2 ? 2.0 : 0.0;
        for (std::size_t i = 0; i < n; ++i)
            angles.push_back(even ? 2 * pi * static_cast<double>(i) / static_cast<double>(n)
                                  : unit(random) * (2 * pi - gap));
        const double step = k % 2 == 0 ? 0.0 : 0.002;  // a dial read in whole divisions: many equal readings
        for (const double a : angles) {
            const double v = 5 + 0.02 * std::cos(a - 1) + 0.01 * std::cos(2 * a) +
                             0.006 * std::cos(3 * a + 0.4) + 0.004 * normal(random);
            r.push_back(step > 0 ? step * std::round(v / step) : v);
        }
        const Turn t = turn_of(r, angles);
        if (t.widest_gap < 3.0) out.push_back(t);
    }
    return out;
}

TEST(Roundness, EqualsTheLinearProgramOnRandomTraces) {
    const auto turns = random_turns(300, 7);
    ASSERT_GT(turns.size(), 150u);
    for (const auto& t : turns) {
        const auto c = reference_circles(t);
        ASSERT_TRUE(c.has_value()) << c.error().text;
        const double tolerance = 1e-9 * full_swing(t) + 1e-12;  // Clp's own is 1e-10 of numbers near 1
        EXPECT_NEAR(c->mz.out_of_round, zone_width_by_clp(t), tolerance);
        EXPECT_NEAR(c->mc.radius - t.mean, enclosing_radius_by_clp(t, 1), tolerance);
        EXPECT_NEAR(c->mi.radius - t.mean, enclosing_radius_by_clp(t, -1), tolerance);
        for (const double other : {c->ls.out_of_round, c->mc.out_of_round, c->mi.out_of_round})
            EXPECT_LE(c->mz.out_of_round, other * (1 + 1e-12));
    }
}

TEST(Roundness, EnclosingCirclesTouchAndContainEveryPoint) {
    for (const auto& t : random_turns(120, 11)) {
        const auto c = reference_circles(t);
        ASSERT_TRUE(c.has_value());
        double outside = -1, inside = -1;
        for (std::size_t i = 0; i < t.size(); ++i) {
            const double mc = c->mc.radius + c->mc.x * t.cos[i] + c->mc.y * t.sin[i];
            const double mi = c->mi.radius + c->mi.x * t.cos[i] + c->mi.y * t.sin[i];
            outside = std::max(outside, t.r[i] + t.mean - mc);
            inside = std::max(inside, mi - t.r[i] - t.mean);
        }
        EXPECT_NEAR(outside, 0, 1e-12);
        EXPECT_NEAR(inside, 0, 1e-12);
    }
}

// Closed forms: once per turn is a centred circle off its axis; twice per turn cannot be bettered by moving
// the centre along either of its own axes.
TEST(Roundness, ClosedForms) {
    const auto angles = even_angles(360);
    std::vector<double> moved, oval;
    for (const double a : angles) {
        moved.push_back(12 + 0.03 * std::cos(a - rad(40)));
        oval.push_back(0.01 * std::cos(2 * a));
    }
    const auto m = reference_circles(turn_of(moved, angles));
    ASSERT_TRUE(m.has_value());
    for (const auto& c : {m->ls, m->mz, m->mc, m->mi}) {
        EXPECT_NEAR(c.out_of_round, 0, 1e-14);
        EXPECT_NEAR(c.radius, 12, 1e-14);
        EXPECT_NEAR(std::hypot(c.x, c.y), 0.03, 1e-14);
    }
    const auto o = reference_circles(turn_of(oval, angles));
    ASSERT_TRUE(o.has_value());
    for (const auto& c : {o->ls, o->mz, o->mc, o->mi}) EXPECT_NEAR(c.out_of_round, 0.02, 1e-14);
}

// A profile r = 20 + 0.010·cos(θ − 0.5) + 0.004·cos(2θ − 0.3) + 0.003·cos(3θ + 1) + 0.0005·cos 15θ at 360
// points, computed twice by other means (Fourier sums; true circles by contact-point search): limaçon least
// squares out-of-round 0.013452886, a 0.008775825619, b 0.004794255386; true-circle minimum zone 0.011654209,
// circumscribed 0.017486035, inscribed 0.011946681. The true circles differ from limaçons by up to
// (eccentricity)²/(2·20) = 2.5e-6.
TEST(Roundness, SyntheticProfileAgreesWithTrueCircles) {
    const auto angles = even_angles(360);
    std::vector<double> r;
    for (const double a : angles)
        r.push_back(20 + 0.010 * std::cos(a - 0.5) + 0.004 * std::cos(2 * a - 0.3) +
                    0.003 * std::cos(3 * a + 1) + 0.0005 * std::cos(15 * a));
    const auto c = reference_circles(turn_of(r, angles));
    ASSERT_TRUE(c.has_value());
    EXPECT_NEAR(c->ls.radius, 20, 1e-12);
    EXPECT_NEAR(c->ls.x, 0.008775825619, 1e-12);
    EXPECT_NEAR(c->ls.y, 0.004794255386, 1e-12);
    EXPECT_NEAR(c->ls.out_of_round, 0.013452886, 1e-9);
    EXPECT_NEAR(c->mz.out_of_round, 0.011654209, 3e-6);
    EXPECT_NEAR(c->mc.out_of_round, 0.017486035, 6e-6);
    EXPECT_NEAR(c->mi.out_of_round, 0.011946681, 6e-6);
}

// The narrowest ring whose outer (sign 1) or inner (−1) circle is a best one, by Clp: x = (m, a, b), the
// radius of the best circle held.
double narrowest_ring_by_clp(const Turn& t, double sign, double radius) {
    Program p{{-1, 0, 0}, {}, {}};  // most m with every point between m and the best circle
    for (std::size_t i = 0; i < t.size(); ++i) {
        const double r = sign * t.r[i];
        p.rows.push_back({0, t.cos[i], t.sin[i]});
        p.least.push_back(r - radius - 1e-12);
        p.rows.push_back({-1, -t.cos[i], -t.sin[i]});
        p.least.push_back(-r);
    }
    return radius + solve_by_clp(p);
}

// Whole divisions of a dial leave several circles of one radius: the narrowest ring is reported, wherever the
// trace starts.
TEST(Roundness, OfSeveralBestCirclesTheRoundestWhereverTheTraceStarts) {
    std::mt19937_64 random(5);
    int several = 0;
    for (int k = 0; k < 200; ++k) {
        const std::size_t n = k % 2 == 0 ? 8 : 12;
        std::vector<double> r;
        for (std::size_t i = 0; i < n; ++i) r.push_back(0.002 * static_cast<double>(random() % 4));
        const Turn turn = turn_of(r, even_angles(n));
        const auto first = reference_circles(turn);
        ASSERT_TRUE(first.has_value());
        const double mc = narrowest_ring_by_clp(turn, 1, first->mc.radius - turn.mean);
        const double mi = narrowest_ring_by_clp(turn, -1, -(first->mi.radius - turn.mean));
        EXPECT_NEAR(first->mc.out_of_round, mc, 1e-9);
        EXPECT_NEAR(first->mi.out_of_round, mi, 1e-9);
        for (std::size_t shift = 1; shift < n; ++shift) {
            std::rotate(r.begin(), r.begin() + 1, r.end());
            const auto turned = reference_circles(turn_of(r, even_angles(n)));
            ASSERT_TRUE(turned.has_value());
            several += std::abs(std::hypot(turned->mc.x, turned->mc.y) -
                                std::hypot(first->mc.x, first->mc.y)) > 1e-9;
            EXPECT_NEAR(turned->mc.out_of_round, first->mc.out_of_round, 1e-12) << k << " from " << shift;
            EXPECT_NEAR(turned->mi.out_of_round, first->mi.out_of_round, 1e-12) << k << " from " << shift;
        }
    }
    EXPECT_EQ(several, 0) << "nor the circle's centre";
}

TEST(Roundness, RefusesHalfCircles) {
    std::vector<double> angles, r;
    for (int i = 0; i < 40; ++i) angles.push_back(rad(4.0 * i)), r.push_back(0.001 * (i % 5));
    const auto c = reference_circles(turn_of(r, angles));
    ASSERT_FALSE(c.has_value());
    EXPECT_FALSE(c.error().text.empty());
}

TEST(Roundness, EqualReadingsAreRound) {
    const auto c = reference_circles(turn_of(std::vector<double>(24, 3.25), {}));
    ASSERT_TRUE(c.has_value());
    EXPECT_EQ(c->mz.out_of_round, 0);
    EXPECT_EQ(c->mc.radius, 3.25);
}

}  // namespace
}  // namespace seatwright::numerics
