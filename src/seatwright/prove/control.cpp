#include "seatwright/prove/control.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>

#include "seatwright/base/cache.hpp"
#include "seatwright/base/fault.hpp"
#include "seatwright/base/numerics/normal.hpp"
#include "seatwright/base/units.hpp"

namespace seatwright::prove {

namespace {

using numerics::normal_below;
using numerics::normal_density;

// Probability that the range of n standard normals exceeds w. The trapezoid rule converges faster than any
// power of its step for such an integrand: at 1/8 the error is under 1e-15.
double range_exceeds(double w, int n) {
    constexpr double step = 0.125, reach = 9;
    double sum = 0;
    for (int i = 0; i <= static_cast<int>((2 * reach) / step); ++i) {
        const double x = -reach + step * i;
        sum += normal_density(x) * std::pow(normal_below(x + w) - normal_below(x), n - 1);
    }
    return 1 - n * step * sum;
}

// ∫ w^k·P(range > w) dw; beyond 16 nothing is left that a double could show, and 61 nodes take the smooth
// rest.
double range_moment(int k, int n) {
    static Cache<std::pair<int, int>, const double> known(256);
    return *known.get({k, n}, [&] {
        const auto f = [&](double w) { return std::pow(w, k) * range_exceeds(w, n); };
        return std::make_shared<const double>(
            boost::math::quadrature::gauss_kronrod<double, 61>::integrate(f, 0.0, 16.0, 0));
    });
}

}  // namespace

double d2(int n) {
    require(n >= 2, "a range needs two values");
    return range_moment(0, n);
}

double d3(int n) {
    require(n >= 2, "a range needs two values");
    const double mean = range_moment(0, n);
    return std::sqrt(2 * range_moment(1, n) - mean * mean);
}

double c4(int n) {
    require(n >= 2, "a standard deviation needs two values");
    return std::sqrt(2.0 / (n - 1)) * boost::math::tgamma_ratio(n / 2.0, (n - 1) / 2.0);
}

Limits three_sigma(double centre, double sigma) {
    return {centre, centre - 3 * sigma, centre + 3 * sigma};
}

Limits range_limits(double sigma, int n) {
    const double mean = d2(n), spread = d3(n);
    return {mean * sigma, std::max(0.0, mean - 3 * spread) * sigma, (mean + 3 * spread) * sigma};
}

Limits deviation_limits(double sigma, int n) {
    const double mean = c4(n), spread = std::sqrt(std::max(0.0, 1 - mean * mean));
    return {mean * sigma, std::max(0.0, mean - 3 * spread) * sigma, (mean + 3 * spread) * sigma};
}

std::vector<RuleHit> western_electric(std::span<const double> z) {
    std::vector<RuleHit> hits;
    int run = 0;
    const auto beyond = [&](std::size_t last, std::size_t window, double limit, double side) {
        int count = 0;
        for (std::size_t k = 0; k < window && k <= last; ++k) count += side * z[last - k] > limit ? 1 : 0;
        return count;
    };
    for (std::size_t i = 0; i < z.size(); ++i) {
        const double side = z[i] > 0 ? 1 : -1;
        if (z[i] == 0) {
            run = 0;
            continue;
        }
        const bool same = i > 0 && z[i - 1] * side > 0;
        run = same ? run + 1 : 1;
        if (std::abs(z[i]) > 3) hits.push_back({i, "1 beyond 3 sigma"});
        if (std::abs(z[i]) > 2 && beyond(i, 3, 2, side) >= 2) hits.push_back({i, "2 of 3 beyond 2 sigma"});
        if (std::abs(z[i]) > 1 && beyond(i, 5, 1, side) >= 4) hits.push_back({i, "4 of 5 beyond 1 sigma"});
        if (run >= 8) hits.push_back({i, "8 in a row on one side"});
    }
    return hits;
}

}  // namespace seatwright::prove
