#include "seatwright/forecast/single.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "seatwright/base/numerics/normal.hpp"
#include "seatwright/forecast/quadrature.hpp"

namespace seatwright::forecast {
namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

double within(double mean, double sd, double low, double high) {
    if (high < low) return 0;
    if (sd <= 0) return low <= mean && mean <= high ? 1 : 0;
    const double a = (low - mean) / sd, b = (high - mean) / sd;
    return a > 0 ? numerics::normal_above(a) - numerics::normal_above(b)
                 : numerics::normal_below(b) - numerics::normal_below(a);
}

}  // namespace

Window narrowed(const Window& window, double by) {
    Window out = window;
    if (out.low) *out.low += by;
    if (out.high) *out.high -= by;
    return out;
}

double both_chance(double mean, double sd, const Window& good, double u, const Window& told) {
    const double low = good.low.value_or(-infinite), high = good.high.value_or(infinite),
                 from = told.low.value_or(-infinite), to = told.high.value_or(infinite);
    if (sd <= 0) return low <= mean && mean <= high ? within(mean, u, from, to) : 0;
    constexpr double tail = 8.5;
    const double first = std::max(low, mean - tail * sd), last = std::min(high, mean + tail * sd);
    if (last <= first) return 0;
    double sum = 0;
    constexpr int pieces = 8;
    for (int i = 0; i < pieces; ++i) {
        const double width = (last - first) / pieces;
        sum += integral<16>(first + width * i, first + width * (i + 1), [&](double x) {
            const double z = (x - mean) / sd;
            return std::exp(-0.5 * z * z) / (sd * std::sqrt(2 * std::numbers::pi)) * within(x, u, from, to);
        });
    }
    return std::min(sum, 1.0);
}

double single_chance(double mean, double sd, const Window& window, std::optional<double> u, Judged judged) {
    if (window.open()) return 1;
    const double low = window.low.value_or(-infinite), high = window.high.value_or(infinite);
    if (judged == Judged::good || !u || *u <= 0) return within(mean, sd, low, high);
    const bool loose = judged == Judged::not_failed || judged == Judged::good_not_failed;
    const Window told = narrowed(window, loose ? -2 * *u : 2 * *u);
    const double from = told.low.value_or(-infinite), to = told.high.value_or(infinite);
    if (judged == Judged::passed || judged == Judged::not_failed)
        return within(mean, std::hypot(sd, *u), from, to);
    return both_chance(mean, sd, window, *u, told);
}

}  // namespace seatwright::forecast
