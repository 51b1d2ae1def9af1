// The disc probability against published tables, closed forms, a series and brute force.
#include "seatwright/base/numerics/disc_probability.hpp"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <boost/math/distributions/non_central_chi_squared.hpp>
#include <cmath>
#include <numbers>
#include <random>
#include <tuple>

namespace seatwright::numerics {
namespace {

Mat2 isotropic(double sigma) {
    return sigma * sigma * Mat2::Identity();
}

// Marcum's Q of order 1 as published in Acta Univ. Sapientiae Math. 3,1 (2011) 60.
TEST(DiscProbability, MatchesPublishedMarcumQ) {
    const std::tuple<double, double, double> table[] = {
        {0.2, 0.6, 0.838249985438908}, {1.2, 1.6, 0.501536568390858}, {2.2, 2.6, 0.426794627821735}};
    for (const auto& [a, b, q] : table)
        EXPECT_NEAR(1 - disc_probability({a, 0}, isotropic(1), b), q, 1e-12) << a << " " << b;
}

// Marcum's Q as stated by the marcumq reference of an open signal-processing toolbox (7 decimals).
TEST(DiscProbability, MatchesToolboxMarcumQ) {
    const std::pair<double, double> table[] = {{1, 0.0028895}, {2, 0.0341348}, {3, 0.1965122}};
    for (const auto& [a, q] : table) EXPECT_NEAR(1 - disc_probability({0, a}, isotropic(1), 4), q, 6e-8) << a;
}

// Rician CDF, offset d and radius R in sigmas; computed to 7 decimals by another method.
TEST(DiscProbability, MatchesOffsetTable) {
    const double offsets[] = {0.5, 1, 2, 3};
    const double table[3][4] = {{0.3572858, 0.2671202, 0.0818923, 0.0108294},
                                {0.8308594, 0.7309879, 0.3964990, 0.1132792},
                                {0.9821563, 0.9562840, 0.7856379, 0.4325202}};
    for (int r = 0; r < 3; ++r)
        for (int d = 0; d < 4; ++d)
            EXPECT_NEAR(disc_probability({offsets[d] * 0.6, offsets[d] * 0.8}, isotropic(1), r + 1),
                        table[r][d], 6e-8);
}

// Harter (1960), Circular error probabilities: radius in units of the larger sigma that holds P.
TEST(DiscProbability, MatchesHarterRadii) {
    const std::tuple<double, double, double, double, double> rows[] = {
        {0.2, 0.705854, 1.657313, 1.970408, 2.583766},
        {0.4, 0.807853, 1.699183, 2.005137, 2.609951},
        {0.6, 0.933651, 1.791522, 2.081304, 2.665332},
        {0.8, 1.057693, 1.947158, 2.230287, 2.790691},
        {1.0, 1.177410, 2.145966, 2.447747, 3.034854}};
    for (const auto& [ratio, k50, k90, k95, k99] : rows)
        for (const auto& [k, p] : {std::pair(k50, 0.50), {k90, 0.90}, {k95, 0.95}, {k99, 0.99}})
            EXPECT_NEAR(centred_disc_probability(ratio * ratio, 1, k), p, 5e-7) << ratio << " " << k;
}

// Hoyt distribution, arguments of the shotGroups manual page (q = sigma ratio, omega = sum of variances).
TEST(DiscProbability, MatchesHoyt) {
    const double q = 0.5, omega = 10, large = omega / (1 + q * q), small = omega - large;
    const std::pair<double, double> table[] = {
        {0.1, 0.0012490240374}, {0.5, 0.0306489079940}, {0.9, 0.0951490094366}};
    for (const auto& [r, p] : table) {
        EXPECT_NEAR(centred_disc_probability(small, large, r), p, 1e-11);
        Mat2 covariance = Mat2::Zero();
        covariance.diagonal() << large, small;
        EXPECT_NEAR(disc_probability({1e-12, 0}, covariance, r), p, 1e-10);
    }
    for (const auto& [w, median] : {std::pair(5.0, 1.740834856), {10.0, 2.461912264}, {15.0, 3.015214419}})
        EXPECT_NEAR(centred_disc_probability(w * 0.2, w * 0.8, median), 0.5, 1e-9);
}

TEST(DiscProbability, IsRayleighWhenCentredAndRound) {
    for (double ratio = 1e-4; ratio < 1e4; ratio *= 3)
        EXPECT_NEAR(disc_probability({0, 0}, isotropic(1), ratio), -std::expm1(-ratio * ratio / 2), 1e-12);
}

// Non-central chi-square by Boost's own series: shares nothing with the quadrature.
TEST(DiscProbability, MatchesNonCentralChiSquareOverDecades) {
    int cases = 0;
    for (double sigma = 1e-4; sigma < 300; sigma *= 2.3)
        for (double d = 1e-3; d < 3; d *= 1.31) {
            const double limit = 1 / (sigma * sigma), lambda = d * d / (sigma * sigma);
            if (lambda > 1e5) continue;  // the series is the slow side
            const boost::math::non_central_chi_squared_distribution<double> law(2, lambda);
            EXPECT_NEAR(disc_probability({d * 0.28, -d * 0.96}, isotropic(sigma), 1), cdf(law, limit), 1e-9)
                << "sigma " << sigma << " d " << d;
            ++cases;
        }
    EXPECT_GT(cases, 200);
}

// Plain two-dimensional midpoint sum in polar coordinates of the disc itself.
double brute_force(const Vec2& offset, const Mat2& covariance, double c) {
    const Mat2 inverse = covariance.inverse();
    const double norm = 1 / (2 * std::numbers::pi * std::sqrt(covariance.determinant()));
    const int rings = 1500, rays = 512;
    double sum = 0;
    for (int i = 0; i < rings; ++i) {
        const double r = c * (i + 0.5) / rings;
        double ring = 0;
        for (int k = 0; k < rays; ++k) {
            const double a = 2 * std::numbers::pi * (k + 0.5) / rays;
            const Vec2 e = Vec2(r * std::cos(a), r * std::sin(a)) - offset;
            ring += std::exp(-0.5 * e.dot(inverse * e));
        }
        sum += ring * r;
    }
    return sum * norm * (c / rings) * (2 * std::numbers::pi / rays);
}

TEST(DiscProbability, MatchesBruteForceForAnyEllipse) {
    std::mt19937 random(20260101);
    std::uniform_real_distribution<double> unit(0, 1);
    for (int i = 0; i < 40; ++i) {
        const double s1 = 0.1 + unit(random), s2 = 0.1 + unit(random), turn = 3.1 * unit(random);
        const Mat2 r = plane_rotation(turn);
        Mat2 diagonal = Mat2::Zero();
        diagonal.diagonal() << s1 * s1, s2 * s2;
        const Mat2 covariance = r * diagonal * r.transpose();
        const Vec2 offset(2 * unit(random) - 1, 2 * unit(random) - 1);
        EXPECT_NEAR(disc_probability(offset, covariance, 1), brute_force(offset, covariance, 1), 2e-6);
    }
}

TEST(DiscProbability, KeepsItsLimits) {
    EXPECT_EQ(disc_probability({0, 0}, isotropic(1), 0), 0);
    EXPECT_EQ(disc_probability({0, 0}, isotropic(1), -1), 0);
    EXPECT_EQ(disc_probability({0.5, 0}, Mat2::Zero(), 1), 1);
    EXPECT_EQ(disc_probability({1.5, 0}, Mat2::Zero(), 1), 0);
    // A normal along one line only: the one-dimensional probability between the chord's ends.
    Mat2 line = Mat2::Zero();
    line(0, 0) = 0.25;
    EXPECT_NEAR(disc_probability({0, 0}, line, 1), std::erf(1 / (0.5 * std::numbers::sqrt2)), 1e-12);
    EXPECT_NEAR(disc_probability({0, 0.6}, line, 1), std::erf(0.8 / (0.5 * std::numbers::sqrt2)), 1e-12);
    EXPECT_EQ(disc_probability({0, 1.1}, line, 1), 0);
    // Huge spread: density at the middle times the area.
    EXPECT_NEAR(disc_probability({3, 4}, isotropic(1e6), 1) * 2e12, 1, 1e-6);
    // Nearly singular is near the singular answer.
    Mat2 thin = line;
    thin(1, 1) = 1e-14;
    EXPECT_NEAR(disc_probability({0.1, 0.6}, thin, 1), disc_probability({0.1, 0.6}, line, 1), 1e-6);
    // On the rim with a tiny spread: half the plane, less the rim's curvature.
    EXPECT_NEAR(disc_probability({1, 0}, isotropic(1e-5), 1), 0.5, 1e-5);
}

TEST(DiscProbability, TurnsWithTheFrame) {
    std::mt19937 random(7);
    std::uniform_real_distribution<double> unit(0, 1);
    for (int i = 0; i < 200; ++i) {
        Mat2 covariance;
        const double a = 0.01 + unit(random), b = 0.01 + unit(random),
                     m = (2 * unit(random) - 1) * std::sqrt(a * b);
        covariance << a, m, m, b;
        const Vec2 offset(unit(random), unit(random));
        const Mat2 r = plane_rotation(6 * unit(random));
        EXPECT_NEAR(disc_probability(offset, covariance, 1),
                    disc_probability(r * offset, r * covariance * r.transpose(), 1), 1e-9);
    }
}

}  // namespace
}  // namespace seatwright::numerics
