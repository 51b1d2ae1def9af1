#include "seatwright/forecast/smoothing.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>

#include "seatwright/base/units.hpp"
#include "seatwright/forecast/quadrature.hpp"

namespace seatwright::forecast {
namespace {

// Weights of the places 0, ±1, …: a sampled normal where it is wide enough, else seven that have its moments
// up to the sixth.
std::vector<double> blur_of(double sd) {
    constexpr double wide = 0.9, tail = 6;
    std::vector<double> out;
    if (sd >= wide) {
        const auto reach = static_cast<std::size_t>(std::ceil(tail * sd));
        double sum = 0;
        for (std::size_t k = 0; k <= reach; ++k) {
            const double z = static_cast<double>(k) / sd;
            out.push_back(std::exp(-0.5 * z * z));
            sum += out.back() * (k == 0 ? 1 : 2);
        }
        for (double& w : out) w /= sum;
        return out;
    }
    const double v = sd * sd;
    Eigen::Matrix3d powers;
    powers << 1, 4, 9, 1, 16, 81, 1, 64, 729;
    const Eigen::Vector3d moments(v / 2, 3 * v * v / 2, 15 * v * v * v / 2);
    const Eigen::Vector3d w = powers.partialPivLu().solve(moments);
    return {1 - 2 * w.sum(), w(0), w(1), w(2)};
}

// Si(x), x ≥ 0: the power series, then the asymptotic one by the auxiliary functions (Abramowitz & Stegun
// 5.2.14, 5.2.8, 5.2.34, 5.2.35).
double sine_integral(double x) {
    if (x < 12) {
        double term = x, sum = x;
        for (int k = 1; k < 60; ++k) {
            term *= -x * x / ((2.0 * k) * (2.0 * k + 1));
            sum += term / (2 * k + 1);
            if (std::abs(term) < 1e-18) break;
        }
        return sum;
    }
    const double q = 1 / (x * x);
    double f = 1, g = 1, a = 1, b = 1;
    for (int k = 1; k <= 5; ++k) {
        a *= -(2.0 * k - 1) * (2.0 * k) * q;
        b *= -(2.0 * k) * (2.0 * k + 1) * q;
        f += a;
        g += b;
    }
    return pi / 2 - f / x * std::cos(x) - g * q * std::sin(x);
}

}  // namespace

void smooth(std::vector<double>& table, std::size_t rows, std::size_t columns, bool down, double sd) {
    const auto weights = blur_of(sd);
    const std::size_t n = down ? rows : columns, lines = down ? columns : rows;
    const std::size_t step = down ? columns : 1, next = down ? 1 : columns;
    std::vector<double> line(n);
    for (std::size_t l = 0; l < lines; ++l) {
        double* at = table.data() + l * next;
        for (std::size_t i = 0; i < n; ++i) line[i] = at[i * step];
        for (std::size_t i = 0; i < n; ++i) {
            double sum = weights[0] * line[i];
            for (std::size_t k = 1; k < weights.size(); ++k) {
                // What lies beyond the ends is as the ends are.
                sum += weights[k] * (line[i >= k ? i - k : 0] + line[std::min(i + k, n - 1)]);
            }
            at[i * step] = sum;
        }
    }
}

double part_below(double above) {
    const double si = sine_integral(pi * std::abs(above)) / pi;
    return above >= 0 ? 0.5 + si : 0.5 - si;
}

}  // namespace seatwright::forecast
