#include "seatwright/prove/harmonics.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <complex>
#include <random>

#include "seatwright/base/units.hpp"

namespace seatwright::prove {
namespace {

struct Term {
    int order;
    double amplitude, phase;
};

double profile(const std::vector<Term>& terms, double a) {
    double r = 7;
    for (const auto& t : terms) r += t.amplitude * std::cos(t.order * a - t.phase);
    return r;
}

const std::vector<Term> seat_like{{1, 0.018, 0.7}, {2, 0.006, 2.2}, {3, 0.004, 4.0}, {11, 0.0015, 5.1}};

void expect_terms(const HarmonicFit& fit, const std::vector<Term>& terms, double tolerance) {
    for (const auto& h : fit.harmonics) {
        double a = 0, b = 0;
        for (const auto& t : terms)
            if (t.order == h.order) a = t.amplitude * std::cos(t.phase), b = t.amplitude * std::sin(t.phase);
        EXPECT_NEAR(h.amplitude * std::cos(h.phase), a, tolerance) << "order " << h.order;
        EXPECT_NEAR(h.amplitude * std::sin(h.phase), b, tolerance) << "order " << h.order;
    }
    for (const auto& t : terms) {
        const bool found = std::any_of(fit.harmonics.begin(), fit.harmonics.end(),
                                       [&](const Harmonic& h) { return h.order == t.order; });
        EXPECT_TRUE(found) << "order " << t.order;
    }
}

TEST(Harmonics, EvenTracesEqualTheDiscreteFourierSum) {
    std::mt19937_64 random(3);
    std::normal_distribution<double> normal;
    for (const std::size_t n : {8u, 9u, 24u, 31u, 360u}) {
        std::vector<double> r;
        for (std::size_t i = 0; i < n; ++i) r.push_back(40 + normal(random));
        const auto fit = fit_harmonics(turn_of(r, {}));
        EXPECT_EQ(fit.harmonics.size(), std::min<std::size_t>(15, (n - 1) / 2));
        EXPECT_TRUE(fit.complete);
        for (const auto& h : fit.harmonics) {
            std::complex<double> sum = 0;
            for (std::size_t i = 0; i < n; ++i)
                sum += r[i] *
                       std::polar(1.0, 2 * pi * h.order * static_cast<double>(i) / static_cast<double>(n));
            sum *= 2.0 / static_cast<double>(n);
            EXPECT_NEAR(h.amplitude * std::cos(h.phase), sum.real(), 1e-12);
            EXPECT_NEAR(h.amplitude * std::sin(h.phase), sum.imag(), 1e-12);
        }
    }
}

TEST(Harmonics, UnevenAnglesGiveTheTermsBack) {
    std::mt19937_64 random(5);
    std::uniform_real_distribution<double> unit(0, 1);
    for (const std::size_t n : {40u, 64u, 200u}) {
        std::vector<double> angles, r;
        for (std::size_t i = 0; i < n; ++i) angles.push_back(2 * pi * unit(random));
        for (const double a : angles) r.push_back(profile(seat_like, a));
        expect_terms(fit_harmonics(turn_of(r, angles)), seat_like, 1e-9);
    }
}

// A quarter of the turn missing: all fifteen orders together would swell the noise a thousandfold.
TEST(Harmonics, GapsKeepTheTermsThatAreThere) {
    std::mt19937_64 random(8);
    std::normal_distribution<double> normal;
    for (const double gap : {rad(30), rad(60), rad(90), rad(120)}) {
        std::vector<double> angles, r;
        for (int i = 0; i < 360; ++i) angles.push_back((2 * pi - gap) * i / 360);
        for (const double a : angles) r.push_back(profile(seat_like, a) + 0.0001 * normal(random));
        const auto fit = fit_harmonics(turn_of(r, angles));
        expect_terms(fit, seat_like, 0.0003);
        ASSERT_TRUE(fit.noise.has_value());
        EXPECT_NEAR(*fit.noise, 0.0001, 0.00002);
    }
}

// The stated standard uncertainty is the scatter actually seen.
TEST(Harmonics, UncertaintyIsTheScatterOfRepeatedTraces) {
    std::mt19937_64 random(9);
    std::normal_distribution<double> normal;
    double squares = 0, stated = 0;
    const int runs = 400;
    for (int k = 0; k < runs; ++k) {
        std::vector<double> r;
        for (int i = 0; i < 90; ++i)
            r.push_back(profile(seat_like, 2 * pi * i / 90) + 0.0005 * normal(random));
        const auto fit = fit_harmonics(turn_of(r, {}));
        squares += std::pow(fit.harmonics[0].amplitude - 0.018, 2);
        stated += *fit.harmonics[0].amplitude_u;
    }
    // sd of an sd estimated from 400 runs is 1/√800 = 3.5 %.
    EXPECT_NEAR(std::sqrt(squares / runs), stated / runs, 0.12 * stated / runs);
}

TEST(Slip, IsFoundWhereItIs) {
    std::mt19937_64 random(12);
    std::normal_distribution<double> normal;
    for (const int n : {48, 360}) {
        std::vector<double> r;
        for (int i = 0; i < n; ++i)
            r.push_back(profile({{1, 0.02, 1}, {2, 0.004, 2}}, 2 * pi * i / n) + 0.0002 * normal(random) +
                        (i >= n / 3 ? 0.012 : 0));
        const auto slip = find_slip(turn_of(r, {}));
        ASSERT_TRUE(slip.has_value()) << n;
        EXPECT_EQ(slip->at, static_cast<std::size_t>(n / 3));
        EXPECT_NEAR(slip->step, 0.012, 0.001);
    }
}

TEST(Slip, IsNotSeenInHonestTraces) {
    std::mt19937_64 random(13);
    std::normal_distribution<double> normal;
    std::uniform_real_distribution<double> unit(0, 1);
    int tried = 0;
    for (int k = 0; k < 400; ++k) {
        const int n = 16 + static_cast<int>(unit(random) * 300);
        const double noise = k % 2 == 0 ? 0 : 0.001, lobes = 2 + std::floor(unit(random) * 30);
        std::vector<double> r;
        for (int i = 0; i < n; ++i) {
            const double a = 2 * pi * i / n;
            r.push_back(0.02 * std::cos(a) + 0.01 * std::cos(lobes * a + 1) + noise * normal(random));
        }
        EXPECT_FALSE(find_slip(turn_of(r, {})).has_value()) << n << " points, " << lobes << " lobes";
        ++tried;
    }
    EXPECT_EQ(tried, 400);
}

}  // namespace
}  // namespace seatwright::prove
