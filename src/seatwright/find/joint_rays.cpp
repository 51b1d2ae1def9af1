#include "seatwright/find/joint_rays.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <limits>
#include <numbers>

namespace seatwright::find {

namespace {

constexpr double tail = 6;  // standard deviations, beyond which a round normal has 2e-8
// The normal seen from the middle is a bump whose angle is its spread over its distance: rays to each of it.
constexpr double rays_in_bump = 2, most_rays = 2048;

}  // namespace

double Rays::chance(const std::vector<Vec2>& at) {
    bool sure = true;
    for (std::size_t v = 0; v < at.size(); ++v) {
        const double far = at[v].norm() + tail * sd_, near = std::max(0.0, at[v].norm() - tail * sd_);
        if (near * near >= tables_[v]->high2()) return 0;
        sure = sure && far * far <= tables_[v]->low2();
    }
    if (sure) return 1;
    Vec2 low = -at.front(), high = low;
    for (const Vec2& p : at) {
        low = low.cwiseMin(-p);
        high = high.cwiseMax(-p);
    }
    const Vec2 middle = 0.5 * (low + high);
    constexpr double whole_turn = 2 * std::numbers::pi;
    const double bumps = std::min(whole_turn * middle.norm() / sd_, most_rays / rays_in_bump);
    const int rays = std::max(rays_, static_cast<int>(rays_in_bump * bumps));
    double sum = 0;
    for (int k = 0; k < rays; ++k) {
        const double turn = whole_turn * (k + 0.5) / rays;
        sum += along({std::cos(turn), std::sin(turn)}, middle, at);
    }
    return sum / (rays * sd_ * sd_);
}

// ∫ r·exp(−|middle + r·way|²/2sd²)·ΠF dr
double Rays::along(const Vec2& way, const Vec2& middle, const std::vector<Vec2>& at) {
    double low = 0, high = std::numeric_limits<double>::infinity(), sure_low = 0, sure_high = high;
    guides_.clear();
    for (std::size_t v = 0; v < at.size(); ++v) {
        const Vec2 p = at[v] + middle;
        const HitTable& table = *tables_[v];
        const double b = p.dot(way), p2 = p.squaredNorm();
        const double outer2 = b * b - p2 + table.high2(), inner2 = b * b - p2 + table.low2();
        if (outer2 <= 0) return 0;
        const double outer = std::sqrt(outer2), inner = inner2 > 0 ? std::sqrt(inner2) : 0;
        low = std::max(low, -b - outer);
        high = std::min(high, -b + outer);
        sure_low = std::max(sure_low, -b - inner);
        sure_high = inner2 > 0 ? std::min(sure_high, -b + inner) : -1;
        guides_.push_back({&table, b, p2});
    }
    if (low >= high) return 0;
    const double offset = middle.dot(way), apart2 = middle.squaredNorm() - offset * offset;
    if (sure_low >= sure_high) {
        const double half_way = 0.5 * (low + high);
        return edge(low, half_way, offset, apart2) + edge(half_way, high, offset, apart2);
    }
    return edge(low, sure_low, offset, apart2) + edge(sure_high, high, offset, apart2) +
           std::exp(-0.5 * apart2 / (sd_ * sd_)) * (closed(sure_high, offset) - closed(sure_low, offset));
}

double Rays::closed(double r, double offset) const {
    const double z = (r + offset) / sd_;
    return -sd_ * sd_ * std::exp(-0.5 * z * z) -
           offset * sd_ * std::sqrt(0.5 * std::numbers::pi) * std::erf(z / std::numbers::sqrt2);
}

double Rays::edge(double from, double to, double offset, double apart2) const {
    if (!(from < to)) return 0;
    return boost::math::quadrature::gauss<double, 10>::integrate(
        [&](double r) {
            double value = r * std::exp(-0.5 * ((r + offset) * (r + offset) + apart2) / (sd_ * sd_));
            for (const Guide& guide : guides_) value *= (*guide.table)(r * r + 2 * guide.b * r + guide.p2);
            return value;
        },
        from, to);
}

}  // namespace seatwright::find
