#include "seatwright/prove/capability.hpp"

#include <algorithm>
#include <boost/math/distributions/beta.hpp>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/non_central_t.hpp>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/tools/roots.hpp>
#include <cmath>
#include <tuple>
#include <vector>

#include "seatwright/base/cache.hpp"
#include "seatwright/base/fault.hpp"
#include "seatwright/base/numerics/normal.hpp"

namespace seatwright::prove {

namespace {

using boost::math::complement;

constexpr double z_two_sided_95 = 1.959963984540054;

using FactorOf = std::tuple<std::size_t, double, double>;  // n, share, confidence
constexpr std::size_t most_factors = 4096;                 // a batch asks for one n after the other

// Half width r that holds `share` of a unit normal about a centre z off its mean; the share grows with r.
double half_width(double z, double share, double guess) {
    constexpr int bits = 52;
    std::uintmax_t trials = 60;
    return boost::math::tools::newton_raphson_iterate(
        [&](double r) {
            return std::pair{numerics::normal_below(z + r) - numerics::normal_below(z - r) - share,
                             numerics::normal_density(z + r) + numerics::normal_density(z - r)};
        },
        guess, 0.0, std::abs(z) + 10, bits, trials);
}

// Trapezoid rule over the sample mean (in its own standard deviations), which converges faster than any power
// of its step for this integrand; symmetric, so half of it.
constexpr double mean_step = 0.125, mean_reach = 8;

std::vector<double> half_widths(std::size_t n, double share) {
    std::vector<double> out;
    double last = numerics::normal_quantile((1 + share) / 2);
    for (int i = 0; i <= static_cast<int>(mean_reach / mean_step); ++i)
        out.push_back(last = half_width(i * mean_step / std::sqrt(static_cast<double>(n)), share, last));
    return out;
}

// Confidence that mean ± k·s holds the share whose half widths are given.
double confidence_of(double k, std::size_t n, const std::vector<double>& widths) {
    const double dof = static_cast<double>(n) - 1;
    const boost::math::chi_squared spread(dof);
    const boost::math::normal unit;
    double sum = 0;
    for (std::size_t i = 0; i < widths.size(); ++i) {
        const double weight =
            (i == 0 ? 1.0 : 2.0) * boost::math::pdf(unit, static_cast<double>(i) * mean_step);
        sum += weight * boost::math::cdf(complement(spread, dof * widths[i] * widths[i] / (k * k)));
    }
    return sum * mean_step;
}

}  // namespace

Capability capability(double mean, double sigma, std::size_t n, std::optional<double> low,
                      std::optional<double> high) {
    Capability out;
    if (sigma <= 0 || (!low && !high) || n < 2) return out;
    if (low && high) out.cp = (*high - *low) / (6 * sigma);
    double room = std::numeric_limits<double>::infinity();
    if (high) room = std::min(room, *high - mean);
    if (low) room = std::min(room, mean - *low);
    const double cpk = room / (3 * sigma);
    const double count = static_cast<double>(n);
    const double half = z_two_sided_95 * std::sqrt(1 / (9 * count) + cpk * cpk / (2 * (count - 1)));
    out.cpk = cpk;
    out.cpk_low = cpk - half;
    out.cpk_high = cpk + half;
    return out;
}

double one_sided_tolerance_factor(std::size_t n, double share, double confidence) {
    require(n >= 2, "a tolerance interval needs two values");
    static Cache<FactorOf, const double> known(most_factors);
    return *known.get({n, share, confidence}, [&] {
        const double count = static_cast<double>(n);
        const boost::math::non_central_t t(count - 1, std::sqrt(count) * numerics::normal_quantile(share));
        return std::make_shared<const double>(boost::math::quantile(t, confidence) / std::sqrt(count));
    });
}

double howe_tolerance_factor(std::size_t n, double share, double confidence) {
    require(n >= 2, "a tolerance interval needs two values");
    const double count = static_cast<double>(n);
    const double z = numerics::normal_quantile((1 + share) / 2);
    const double chi = boost::math::quantile(boost::math::chi_squared(count - 1), 1 - confidence);
    return std::sqrt((count - 1) * (1 + 1 / count) * z * z / chi);
}

double two_sided_tolerance_factor(std::size_t n, double share, double confidence) {
    static Cache<FactorOf, const double> known(most_factors);
    return *known.get({n, share, confidence}, [&] {
        const auto widths = half_widths(n, share);
        constexpr int bits = 44;
        constexpr double off_by = 1.02;  // Howe's factor, of ten values or more
        std::uintmax_t trials = 100;
        const auto [low, high] = boost::math::tools::bracket_and_solve_root(
            [&](double k) { return confidence_of(k, n, widths) - confidence; },
            howe_tolerance_factor(n, share, confidence), off_by, true,
            boost::math::tools::eps_tolerance<double>(bits), trials);
        return std::make_shared<const double>((low + high) / 2);
    });
}

std::size_t zero_failure_sample(double pass_rate, double confidence) {
    require(pass_rate > 0 && pass_rate < 1 && confidence > 0 && confidence < 1, "rates lie between 0 and 1");
    // A quotient within rounding of a whole number is that number.
    const double n = std::log1p(-confidence) / std::log(pass_rate);
    return static_cast<std::size_t>(std::ceil(n - 1e-9));
}

std::size_t sample_with_failures(std::size_t failed, double pass_rate, double confidence) {
    if (failed == 0) return zero_failure_sample(pass_rate, confidence);
    static Cache<FactorOf, const std::size_t> known(most_factors);
    return *known.get({failed, pass_rate, confidence}, [&] {
        const auto shown = [&](std::size_t n) {
            return pass_rate_bound(n - failed, n, confidence) >= pass_rate;
        };
        std::size_t low = failed, high = failed + zero_failure_sample(pass_rate, confidence);
        while (!shown(high)) low = high, high *= 2;
        while (high - low > 1) {
            const std::size_t middle = low + (high - low) / 2;
            (shown(middle) ? high : low) = middle;
        }
        return std::make_shared<const std::size_t>(high);
    });
}

double pass_rate_bound(std::size_t passed, std::size_t measured, double confidence) {
    require(passed <= measured && measured > 0, "passed are among the measured");
    if (passed == 0) return 0;
    const boost::math::beta_distribution<> share(static_cast<double>(passed),
                                                 static_cast<double>(measured - passed) + 1);
    return boost::math::quantile(share, 1 - confidence);
}

}  // namespace seatwright::prove
