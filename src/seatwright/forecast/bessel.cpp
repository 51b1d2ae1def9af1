#include "seatwright/forecast/bessel.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "seatwright/base/units.hpp"
#include "seatwright/forecast/quadrature.hpp"
#include "seatwright/forecast/vectors.hpp"

namespace seatwright::forecast {
namespace {

// cos x, |x| < 1e6: the angle less whole turns, then Taylor's series about a quarter turn; 1e-12.
inline double cosine(double x) {
    constexpr double turn = 0.15915494309189534, whole = 6755399441055744.0;  // 1.5·2^52: rounds
    const double t = x * turn;
    const double rest = std::abs(t - ((t + whole) - whole));  // of a turn, 0 … ½
    const double from = (0.25 - rest) * (2 * pi), y = from * from;
    double sum = 1 / 355687428096000.0;
    sum = sum * y - 1 / 1307674368000.0;
    sum = sum * y + 1 / 6227020800.0;
    sum = sum * y - 1 / 39916800.0;
    sum = sum * y + 1 / 362880.0;
    sum = sum * y - 1 / 5040.0;
    sum = sum * y + 1 / 120.0;
    sum = sum * y - 1 / 6.0;
    return from + from * y * sum;
}

constexpr double border = 8;
constexpr std::size_t near_terms = 22, far_terms = 14;

// Chebyshev coefficients over −1 … 1 (the first halved) of f, all from the C library's J0 and Y0: J0 itself
// up to the border as a function of x², beyond it the two slow parts P and Q of
//   J0(x) = √(2/(πx))·(P·cos(x − π/4) − Q·sin(x − π/4)), Q = q/x, as functions of (border/x)².
template <std::size_t N, class F>
std::array<double, N> coefficients(const F& f) {
    constexpr std::size_t nodes = 2 * N;
    std::array<double, N> out{};
    for (std::size_t i = 0; i < nodes; ++i) {
        const double angle = pi * (static_cast<double>(i) + 0.5) / nodes, value = f(std::cos(angle));
        for (std::size_t k = 0; k < N; ++k)
            out[k] += value * std::cos(static_cast<double>(k) * angle) * (k == 0 ? 1.0 : 2.0) / nodes;
    }
    return out;
}

struct Slow {
    double p, q;
};
Slow slow_at(double s) {
    const double x = border / std::sqrt(std::max(1e-4, (s + 1) / 2)), angle = x - pi / 4;
    const double scale = std::sqrt(pi * x / 2), j = ::j0(x), y = ::y0(x);
    return {scale * (j * std::cos(angle) + y * std::sin(angle)),
            scale * (y * std::cos(angle) - j * std::sin(angle)) * x};
}

struct Series {
    std::array<double, near_terms> near =
        coefficients<near_terms>([](double s) { return ::j0(border * std::sqrt((s + 1) / 2)); });
    std::array<double, far_terms> p = coefficients<far_terms>([](double s) { return slow_at(s).p; });
    std::array<double, far_terms> q = coefficients<far_terms>([](double s) { return slow_at(s).q; });
};
const Series& series() {
    static const Series one;
    return one;
}

template <std::size_t N>
inline double clenshaw(const std::array<double, N>& c, double s) {
    double one = 0, two = 0;
    for (std::size_t k = N - 1; k > 0; --k) {
        const double next = 2 * s * one - two + c[k];
        two = one;
        one = next;
    }
    return s * one - two + c[0];
}

SEATWRIGHT_VECTORS
void add_near(const std::array<double, near_terms>& c, const double* at, double k, std::size_t n,
              double weight, double* sum) {
    for (std::size_t i = 0; i < n; ++i) {
        const double x = k * at[i] / border;
        sum[i] += weight * clenshaw(c, 2 * x * x - 1);
    }
}

SEATWRIGHT_VECTORS
void add_far(const std::array<double, far_terms>& p, const std::array<double, far_terms>& q, const double* at,
             double k, std::size_t n, double weight, double* sum) {
    for (std::size_t i = 0; i < n; ++i) {
        const double x = k * at[i], u = border / x, s = 2 * u * u - 1;
        const double angle = x - pi / 4;
        const double all = clenshaw(p, s) * cosine(angle) - clenshaw(q, s) / x * cosine(angle - pi / 2);
        sum[i] += weight * all * std::sqrt(2 / (pi * x));
    }
}

}  // namespace

void add_j0(std::span<const double> places, double k, double weight, double* sum) {
    const auto near = static_cast<std::size_t>(
        std::partition_point(places.begin(), places.end(), [&](double x) { return k * x < border; }) -
        places.begin());
    const Series& of = series();
    add_near(of.near, places.data(), k, near, weight, sum);
    add_far(of.p, of.q, places.data() + near, k, places.size() - near, weight, sum + near);
}

void scaled_bessel_i(double z, std::size_t n, double* out) {
    constexpr std::size_t most = 16;
    std::fill_n(out, n, 0.0);
    if (z < 1e-12) {
        out[0] = 1;
        return;
    }
    // Miller's recurrence downwards (Abramowitz & Stegun 9.12), scaled by e^-z·I_0(z).
    std::array<double, most> of{};
    const auto start =
        n + 12 + static_cast<std::size_t>(std::min(4.5 * std::sqrt(z) + z / 2, 9 * std::sqrt(z) + 30));
    double above = 0, here = 1e-280;
    for (std::size_t k = start; k > 0; --k) {
        const double below = above + 2 * static_cast<double>(k) / z * here;
        above = here;
        here = below;
        if (k - 1 < n) of[k - 1] = here;
        if (here > 1e200) {
            here *= 1e-200;
            above *= 1e-200;
            for (double& x : of) x *= 1e-200;
        }
    }
    const double scale = scaled_bessel_i0(z) / of[0];
    for (std::size_t k = 0; k < n; ++k) out[k] = of[k] * scale;
}

}  // namespace seatwright::forecast
