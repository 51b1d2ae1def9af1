// Gauss-Legendre sums, and functions the forecast asks for many times over.
#pragma once

#include <array>
#include <cmath>
#include <numbers>

namespace seatwright::forecast {

template <int N>
struct Legendre {
    std::array<double, N> x{}, w{};
    // Newton's method on the recurrence; error below 1e-15.
    Legendre() {
        for (int i = 0; i < N; ++i) {
            double t = std::cos(std::numbers::pi * (i + 0.75) / (N + 0.5)), slope = 1;
            for (int again = 0; again < 100; ++again) {
                double p = 1, before = 0;
                for (int k = 1; k <= N; ++k) {
                    const double next = ((2 * k - 1) * t * p - (k - 1) * before) / k;
                    before = p;
                    p = next;
                }
                slope = N * (t * p - before) / (t * t - 1);
                const double step = p / slope;
                t -= step;
                if (std::abs(step) < 1e-15) break;
            }
            x[static_cast<std::size_t>(i)] = t;
            w[static_cast<std::size_t>(i)] = 2 / ((1 - t * t) * slope * slope);
        }
    }
    static const Legendre& rule() {
        static const Legendre one;
        return one;
    }
};

template <int N, class F>
double integral(double low, double high, const F& f) {
    const auto& rule = Legendre<N>::rule();
    const double middle = (low + high) / 2, half = (high - low) / 2;
    double sum = 0;
    for (std::size_t i = 0; i < N; ++i) sum += rule.w[i] * f(middle + half * rule.x[i]);
    return half * sum;
}

// The same where f has roots' kinks at the ends: over x = (low + high)/2 − half·cos u.
template <int N, class F>
double integral_between_kinks(double low, double high, const F& f) {
    const double middle = (low + high) / 2, half = (high - low) / 2;
    return integral<N>(0, std::numbers::pi,
                       [&](double u) { return half * std::sin(u) * f(middle - half * std::cos(u)); });
}

// e^-z·I0(z), z ≥ 0: the power series below 20, the asymptotic one above (Abramowitz & Stegun 9.6.12, 9.7.1);
// 1e-10.
double scaled_bessel_i0(double z);

// Φ(z) out of a table, 1e-10 absolute: many times as fast.
class NormalTable {
  public:
    NormalTable();
    double operator()(double z) const {
        if (z <= -reach) return 0;
        if (z >= reach) return 1;
        const double x = (z + reach) * cells_a_unit;
        const auto i = static_cast<std::size_t>(x);
        const double t = x - static_cast<double>(i), s = 1 - t;
        const auto& a = at_[i];
        const auto& b = at_[i + 1];
        return s * s * ((1 + 2 * t) * a.value + t * a.slope) + t * t * ((3 - 2 * t) * b.value - s * b.slope);
    }

    // φ(z), 1e-7 absolute.
    double density(double z) const {
        if (z <= -reach || z >= reach) return 0;
        const double x = (z + reach) * cells_a_unit;
        const auto i = static_cast<std::size_t>(x);
        const double t = x - static_cast<double>(i), s = 1 - t;
        const auto& a = at_[i];
        const auto& b = at_[i + 1];
        return cells_a_unit *
               (6 * s * t * (b.value - a.value) + s * (1 - 3 * t) * a.slope + t * (3 * t - 2) * b.slope);
    }

  private:
    static constexpr double reach = 8, cells_a_unit = 128;
    struct Knot {
        double value, slope;  // slope of one cell
    };
    std::array<Knot, 2050> at_{};
};
const NormalTable& normal_table();

}  // namespace seatwright::forecast
