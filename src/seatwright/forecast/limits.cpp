#include "seatwright/forecast/limits.hpp"

#include <algorithm>
#include <array>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>

#include "seatwright/base/numerics/normal.hpp"
#include "seatwright/forecast/points.hpp"
#include "seatwright/forecast/quadrature.hpp"

namespace seatwright::forecast {
namespace {

constexpr std::array<double, 4> tried_at{0.02, 0.16, 0.84, 0.98};
constexpr std::size_t draws = 4096;
constexpr double least_chance = 1e-9;

// Causes of a bad head that have nothing to do with each other multiply the chances of a good one.
double logarithm(double p) {
    return std::log(std::max(p, least_chance));
}

// The figure's value at a quantile of what it may truly be.
double value_at(const Known& known, const Input& input, double p) {
    const double best = known.*input.figure;
    if (input.dof) {
        const boost::math::chi_squared chi(*input.dof);
        const double seen = (best * best + input.less) * *input.dof / boost::math::quantile(chi, 1 - p);
        return std::sqrt(std::max(0.0, seen - input.less));
    }
    return best + input.standard_error * numerics::normal_quantile(p);
}

// How far the logarithm of the rate moves, as a function of the input's quantile, kept on the scale of normal
// quantiles.
struct Effect {
    std::array<double, tried_at.size() + 1> at{}, moves{};
    // Cubics whose slopes are those of the parabola through a place and its neighbours: the chord of a curve
    // that falls ever faster would lie below it everywhere.
    double operator()(double z) const {
        std::size_t i = 0;
        while (i + 2 < at.size() && z > at[i + 1]) ++i;
        const double x = std::clamp(z, at.front() - 0.6, at.back() + 0.6), wide = at[i + 1] - at[i];
        const double t = (x - at[i]) / wide, s = 1 - t;
        if (t < 0) return moves[i] + slope(i) * (x - at[i]);
        if (t > 1) return moves[i + 1] + slope(i + 1) * (x - at[i + 1]);
        return s * s * ((1 + 2 * t) * moves[i] + t * wide * slope(i)) +
               t * t * ((3 - 2 * t) * moves[i + 1] - s * wide * slope(i + 1));
    }
    double slope(std::size_t i) const {
        const std::size_t m = std::clamp<std::size_t>(i, 1, at.size() - 2);
        const double before = at[m] - at[m - 1], after = at[m + 1] - at[m];
        const double back = (moves[m] - moves[m - 1]) / before, on = (moves[m + 1] - moves[m]) / after;
        const double bend = (on - back) / (before + after);  // half the second derivative
        return back + bend * before + 2 * bend * (at[i] - at[m]);
    }
};

}  // namespace

Interval limits_of(const Known& known, const std::vector<Input>& inputs, double at_best,
                   const std::function<double(const Known&)>& rate) {
    const double middle = logarithm(at_best);
    std::vector<Effect> effects;
    for (const Input& input : inputs) {
        if (!input.figure || (!input.dof && input.standard_error <= 0)) continue;
        if (input.dof && known.*input.figure <= 0 && input.less <= 0) continue;
        Effect effect;
        std::size_t n = 0;
        bool any = false;
        // Where the best value itself lies among the quantiles: its effect there is nothing.
        double own = 0.5;
        if (input.dof) {
            const boost::math::chi_squared chi(*input.dof);
            own = 1 - boost::math::cdf(chi, *input.dof);
        }
        const double at_own = numerics::normal_quantile(own);
        bool placed = false;
        for (const double p : tried_at) {
            const double z = numerics::normal_quantile(p);
            if (!placed && z > at_own) {
                effect.at[n] = at_own;
                effect.moves[n++] = 0;
                placed = true;
            }
            Known other = known;
            other.*input.figure = value_at(known, input, p);
            effect.at[n] = z;
            effect.moves[n] = logarithm(rate(other)) - middle;
            any = any || std::abs(effect.moves[n]) > 1e-4;
            ++n;
        }
        if (any) effects.push_back(effect);
    }
    if (effects.empty()) return {at_best, at_best};
    const auto points = normal_points(static_cast<int>(effects.size()), draws, 0);
    std::vector<double> sums(draws, middle);
    for (std::size_t i = 0; i < draws; ++i)
        for (std::size_t e = 0; e < effects.size(); ++e)
            sums[i] += effects[e](points[i * effects.size() + e]);
    std::sort(sums.begin(), sums.end());
    const auto rate_at = [&](double p) {
        return std::min(1.0, std::exp(sums[static_cast<std::size_t>(p * (draws - 1))]));
    };
    return {rate_at(0.025), rate_at(0.975)};
}

}  // namespace seatwright::forecast
