#include "seatwright/base/numerics/disc_probability.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <cmath>
#include <numbers>
#include <optional>

#include "seatwright/base/fault.hpp"

namespace seatwright::numerics {
namespace {

// Beyond this many standard deviations a normal holds less than 2.3e-19: nothing at double precision.
constexpr double nothing_beyond = 9.0;
// Aimed at below the promised 1e-9, so that the estimate's own error does not matter.
constexpr double quadrature_tolerance = 1e-11;
// Halvings of the interval: 2^-15 of it is far below the narrowest feature left after the cuts above.
constexpr unsigned quadrature_depth = 15;
// A variance below this share of c² moves the answer by less than the tolerance unless the mean lies on the
// rim itself, where the limit taken is the one-dimensional normal's.
constexpr double singular_share = 1e-24;
// Ellipses too thin for the trapezoidal rule by then go to the adaptive one.
constexpr int most_trapezoid_points = 128;

double normal_between(double low, double high) {
    // Taken on the side where erfc does not cancel.
    constexpr double scale = 1 / std::numbers::sqrt2;
    if (low > 0) return 0.5 * (std::erfc(low * scale) - std::erfc(high * scale));
    if (high < 0) return 0.5 * (std::erfc(-high * scale) - std::erfc(-low * scale));
    return 0.5 * (std::erf(high * scale) - std::erf(low * scale));
}

// The chord at x of a disc of radius c, seen by the other axis.
double chord_probability(double half_chord, double b, double sigma) {
    if (sigma <= 0) return std::abs(b) <= half_chord ? 1.0 : 0.0;
    return normal_between((-half_chord - b) / sigma, (half_chord - b) / sigma);
}

// The same where the chords within trapezoid_reach of the mean all lie inside the disc: the integrand is then
// smooth and nothing at both ends, so that the trapezoidal rule converges geometrically. None when it has
// not.
std::optional<double> trapezoid_disc(double a, double b, double s_a, double s_b, double c) {
    constexpr double trapezoid_reach = 7.5;  // s_a: beyond lies less than 1e-13
    constexpr int halvings = 3;
    if (std::abs(a) + trapezoid_reach * s_a >= c) return std::nullopt;
    const auto integrand = [&](double z) {
        const double x = a + s_a * z;
        return std::exp(-0.5 * z * z) * chord_probability(std::sqrt((c - x) * (c + x)), b, s_b);
    };
    const double norm = 1 / std::sqrt(2 * std::numbers::pi);
    double step = 0.75, sum = integrand(0);
    for (int i = 1; i * step < trapezoid_reach; ++i) sum += integrand(i * step) + integrand(-i * step);
    for (int n = 0; n < halvings; ++n) {
        const double before = sum * step;
        for (int i = 0; (i + 0.5) * step < trapezoid_reach; ++i)
            sum += integrand((i + 0.5) * step) + integrand(-(i + 0.5) * step);
        step *= 0.5;
        if (norm * std::abs(sum * step - before) < quadrature_tolerance)
            return std::clamp(norm * sum * step, 0.0, 1.0);
    }
    return std::nullopt;
}

// Mean at (a, b), standard deviations s_a ≤ s_b, s_a > 0.
double offset_disc(double a, double b, double s_a, double s_b, double c) {
    const double low = std::max(-c, a - nothing_beyond * s_a), high = std::min(c, a + nothing_beyond * s_a);
    if (!(low < high)) return 0;
    if (const auto inside = trapezoid_disc(a, b, s_a, s_b, c)) return *inside;
    const double norm = 1 / (s_a * std::sqrt(2 * std::numbers::pi));
    const auto integrand = [&](double u) {
        const double x = c * std::sin(u), half_chord = c * std::cos(u);
        const double z = (x - a) / s_a;
        return norm * std::exp(-0.5 * z * z) * chord_probability(half_chord, b, s_b) * half_chord;
    };
    using Rule = boost::math::quadrature::gauss_kronrod<double, 31>;
    const double u_low = std::asin(std::clamp(low / c, -1.0, 1.0));
    const double u_high = std::asin(std::clamp(high / c, -1.0, 1.0));
    // Split at the mean, so that the first rule cannot step over a narrow peak.
    const double u_mean = std::asin(std::clamp(a / c, -1.0, 1.0));
    double sum = 0, from = u_low;
    for (const double to : {std::clamp(u_mean, u_low, u_high), u_high}) {
        if (from < to) sum += Rule::integrate(integrand, from, to, quadrature_depth, quadrature_tolerance);
        from = to;
    }
    return std::clamp(sum, 0.0, 1.0);
}

}  // namespace

PrincipalAxes principal_axes(const Mat2& covariance) {
    const double half_sum = 0.5 * (covariance(0, 0) + covariance(1, 1));
    const double half_difference = 0.5 * (covariance(0, 0) - covariance(1, 1));
    const double mixed = 0.5 * (covariance(0, 1) + covariance(1, 0));
    const double radius = std::hypot(half_difference, mixed);
    PrincipalAxes axes;
    axes.large = std::max(0.0, half_sum + radius);
    axes.small = std::max(0.0, half_sum - radius);
    axes.turn = radius > 0 ? 0.5 * std::atan2(mixed, half_difference) : 0;
    return axes;
}

double centred_disc_probability(double variance_p, double variance_q, double radius) {
    const double p = std::min(variance_p, variance_q), q = std::max(variance_p, variance_q);
    require(std::isfinite(q) && p >= 0 && std::isfinite(radius), "finite variances and radius");
    if (radius <= 0) return 0;
    const double c2 = radius * radius;
    if (q <= singular_share * c2) return 1;
    if (c2 >= nothing_beyond * nothing_beyond * q) return 1;
    if (p <= singular_share * c2) return normal_between(-radius / std::sqrt(q), radius / std::sqrt(q));
    if (q - p <= 1e-14 * q) return -std::expm1(-c2 / (2 * q));
    // Polar form: P is the mean over the direction of (1 − exp(−c²A/2))/(A·√(pq)), A = cos²/p + sin²/q,
    // smooth and periodic, so the trapezoidal rule converges geometrically unless the ellipse is very thin.
    // It depends on twice the direction, evenly: half a turn of it is enough, and each doubling adds only the
    // points between the old ones.
    const double root = std::sqrt(p * q);
    const auto integrand = [&](double double_angle) {
        const double cosine = std::cos(double_angle);
        const double inverse = 0.5 * ((1 + cosine) / p + (1 - cosine) / q);
        return -std::expm1(-0.5 * c2 * inverse) / (inverse * root);
    };
    double sum = 0.5 * (integrand(0) + integrand(std::numbers::pi)), previous = -1;
    for (int n = 4; n <= most_trapezoid_points; n *= 2) {
        const int step = n == 4 ? 1 : 2;
        for (int i = 1; i < n; i += step) sum += integrand(std::numbers::pi * i / n);
        const double value = sum / n;
        if (std::abs(value - previous) < quadrature_tolerance) return std::clamp(value, 0.0, 1.0);
        previous = value;
    }
    return offset_disc(0, 0, std::sqrt(p), std::sqrt(q), radius);
}

double disc_probability(const Vec2& offset, const Mat2& covariance, double radius) {
    require(offset.allFinite() && covariance.allFinite() && std::isfinite(radius),
            "finite offset, covariance, radius");
    if (radius <= 0) return 0;
    const PrincipalAxes axes = principal_axes(covariance);
    const double distance = offset.norm();
    const double s_large = std::sqrt(axes.large);
    if (axes.large <= singular_share * radius * radius) return distance <= radius ? 1 : 0;
    if (distance + nothing_beyond * s_large <= radius) return 1;
    if (distance - nothing_beyond * s_large >= radius) return 0;
    if (distance <= 1e-15 * radius) return centred_disc_probability(axes.small, axes.large, radius);
    const double cosine = std::cos(axes.turn), sine = std::sin(axes.turn);
    const double along = cosine * offset.x() + sine * offset.y();    // axis of the larger variance
    const double across = -sine * offset.x() + cosine * offset.y();  // axis of the smaller one
    if (axes.small <= singular_share * radius * radius) {
        if (std::abs(across) >= radius) return 0;
        return chord_probability(std::sqrt((radius - across) * (radius + across)), along, s_large);
    }
    return offset_disc(across, along, std::sqrt(axes.small), s_large, radius);
}

}  // namespace seatwright::numerics
