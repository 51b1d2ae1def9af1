#include "seatwright/forecast/chance_table.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "seatwright/base/units.hpp"

namespace seatwright::forecast {
namespace {

constexpr std::size_t most_nodes = 36;
constexpr std::size_t angles = 5;

// Values at Chebyshev's points (every `stride`) to coefficients, in place.
void to_coefficients(std::vector<double>& all, std::size_t first, std::size_t stride, std::size_t n) {
    std::array<double, most_nodes> value{};
    for (std::size_t i = 0; i < n; ++i) value[i] = all[first + i * stride];
    for (std::size_t k = 0; k < n; ++k) {
        double sum = 0;
        for (std::size_t i = 0; i < n; ++i)
            sum += value[i] * std::cos(pi * static_cast<double>(k) * (static_cast<double>(i) + 0.5) /
                                       static_cast<double>(n));
        all[first + k * stride] = sum * (k == 0 ? 1.0 : 2.0) / static_cast<double>(n);
    }
}

double point(std::size_t i, std::size_t n, double reach) {
    return n == 1 ? 0
                  : reach / 2 * (1 - std::cos(pi * (static_cast<double>(i) + 0.5) / static_cast<double>(n)));
}

// T_0 … T_(n−1) at a length of 0 … reach; the points run from 0 up, so that the cosine is turned about.
void polynomials(double at, double reach, std::size_t n, std::array<double, most_nodes>& out) {
    const double x = n == 1 || reach <= 0 ? 0 : 1 - 2 * std::min(at / reach, 1.0);
    out[0] = 1;
    if (n > 1) out[1] = x;
    for (std::size_t k = 2; k < n; ++k) out[k] = 2 * x * out[k - 1] - out[k - 2];
}

std::size_t nodes_for(double reach, double width) {
    if (reach <= 0) return 1;
    const double wanted = 8 + 2.2 * (width > 0 ? reach / width : 1e9);
    return static_cast<std::size_t>(std::min(wanted, static_cast<double>(most_nodes)));
}

}  // namespace

ChanceTable::ChanceTable(const SeatChance& chance, double miss, double lean)
    : miss_(miss),
      lean_(lean),
      misses_(nodes_for(miss, chance.softness())),
      leans_(nodes_for(lean, chance.lean_softness())),
      turns_(miss > 0 && lean > 0 ? angles : 1) {
    of_.resize(misses_ * leans_ * turns_);
    for (std::size_t i = 0; i < misses_; ++i)
        for (std::size_t j = 0; j < leans_; ++j)
            for (std::size_t k = 0; k < turns_; ++k) {
                const double turn = turns_ == 1 ? 0 : pi * (static_cast<double>(k) + 0.5) / angles;
                of_[(i * leans_ + j) * turns_ + k] =
                    chance({point(i, misses_, miss), 0},
                           point(j, leans_, lean) * Vec2(std::cos(turn), std::sin(turn)));
            }
    for (std::size_t i = 0; i < misses_; ++i)
        for (std::size_t j = 0; j < leans_; ++j) to_coefficients(of_, (i * leans_ + j) * turns_, 1, turns_);
    for (std::size_t i = 0; i < misses_; ++i)
        for (std::size_t k = 0; k < turns_; ++k)
            to_coefficients(of_, i * leans_ * turns_ + k, turns_, leans_);
    for (std::size_t j = 0; j < leans_; ++j)
        for (std::size_t k = 0; k < turns_; ++k)
            to_coefficients(of_, j * turns_ + k, leans_ * turns_, misses_);
    constexpr int tried = 24;
    constexpr double enough = 2e-5;
    double worst = 0;
    for (int n = 0; n < tried; ++n) {
        // Places between the points, spread by the golden ratio.
        const double a = std::fmod(0.6180339887498949 * (n + 1), 1.0),
                     b = std::fmod(0.7548776662466927 * (n + 1), 1.0);
        const double turn = 2 * pi * n / tried;
        const Vec2 m(miss * a, 0), k = lean * b * Vec2(std::cos(turn), std::sin(turn));
        worst = std::max(worst, std::abs((*this)(m, k) - chance(m, k)));
    }
    good_ = worst < enough;
}

double ChanceTable::operator()(const Vec2& miss, const Vec2& lean) const {
    const double m = miss.norm(), k = lean.norm();
    std::array<double, most_nodes> by_miss{}, by_lean{};
    std::array<double, angles> by_turn{1};
    polynomials(m, miss_, misses_, by_miss);
    polynomials(k, lean_, leans_, by_lean);
    if (turns_ > 1) {
        const double cosine = m * k > 0 ? miss.dot(lean) / (m * k) : 0;
        by_turn[1] = cosine;
        for (std::size_t n = 2; n < turns_; ++n) by_turn[n] = 2 * cosine * by_turn[n - 1] - by_turn[n - 2];
    }
    double sum = 0;
    const double* of = of_.data();
    for (std::size_t i = 0; i < misses_; ++i) {
        double row = 0;
        for (std::size_t j = 0; j < leans_; ++j) {
            double turned = 0;
            for (std::size_t n = 0; n < turns_; ++n) turned += *of++ * by_turn[n];
            row += turned * by_lean[j];
        }
        sum += row * by_miss[i];
    }
    return std::clamp(sum, 0.0, 1.0);
}

}  // namespace seatwright::forecast
