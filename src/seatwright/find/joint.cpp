#include "seatwright/find/joint.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace seatwright::find {
namespace {

// The outer integrals stop at this many standard deviations in all directions (chi-square(3) tail 1.5e-5);
// the weights kept are made to sum to one, so that what is lost is counted like the rest.
constexpr double reach = 5.0;
// Step of the trapezoidal rule in widths of F's edge, and of the outer normals themselves.
constexpr double step_in_edges = 1.0, widest_step = 0.8;
// Edges sharper than this share of the outer spread are blunted to it: more points would not fit the time.
constexpr double sharpest_edge = 0.1;
// Known distances below this share of the edge are taken as none: P moves by less than its square.
constexpr double no_distance = 0.02;
// Below this the rest of the product does not matter.
constexpr double nothing = 1e-9;

// exp(−x)·I₁(x), Abramowitz & Stegun 9.8.3 and 9.8.4, 2.2e-7 relative.
double scaled_bessel_i1(double x) {
    if (x < 3.75) {
        const double t = (x / 3.75) * (x / 3.75);
        const double series =
            0.5 +
            t * (0.87890594 +
                 t * (0.51498869 + t * (0.15084934 + t * (0.02658733 + t * (0.00301532 + t * 0.00032411)))));
        return x * series * std::exp(-x);
    }
    const double t = 3.75 / x;
    const double series =
        0.39894228 +
        t * (-0.03988024 +
             t * (-0.00362018 +
                  t * (0.00163801 +
                       t * (-0.01031555 +
                            t * (0.02282967 + t * (-0.02895312 + t * (0.01787654 + t * -0.00420059)))))));
    return series / std::sqrt(x);
}

// F for one (s, c): values and slopes at even distances, cubic between.
class HitTable {
  public:
    HitTable(double sd, double clearance) : sd_(sd), clearance_(clearance) {
        if (clearance_ <= 0) return;
        low_ = std::max(0.0, clearance_ - edge * sd_);
        step_ = (clearance_ + edge * sd_ - low_) / intervals;
        double value = low_ > 0 ? 1.0 : -std::expm1(-0.5 * clearance_ * clearance_ / (sd_ * sd_));
        for (std::size_t i = 0; i <= intervals; ++i) {
            const double at = low_ + static_cast<double>(i) * step_;
            values_[i] = std::clamp(value, 0.0, 1.0);
            slopes_[i] = slope(at) * step_;
            // Gauss-Legendre, three points.
            const double half = 0.5 * step_, off = half * 0.7745966692414834;
            value +=
                half / 9 * (5 * slope(at + half - off) + 8 * slope(at + half) + 5 * slope(at + half + off));
        }
        high_ = low_ + intervals * step_;
    }
    bool same(double sd, double clearance) const { return sd == sd_ && clearance == clearance_; }
    double operator()(double distance2) const {
        if (distance2 >= high_ * high_) return 0;
        if (distance2 <= low_ * low_) return values_[0];
        const double u = (std::sqrt(distance2) - low_) / step_;
        const auto i = std::min<std::size_t>(intervals - 1, static_cast<std::size_t>(u));
        const double t = u - static_cast<double>(i), s = 1 - t;
        return s * s * ((1 + 2 * t) * values_[i] + t * slopes_[i]) +
               t * t * ((1 + 2 * s) * values_[i + 1] - s * slopes_[i + 1]);
    }

  private:
    static constexpr double edge = 6.5;  // beyond it F is 1 or 0 to 1e-10
    static constexpr std::size_t intervals = 96;
    double slope(double rho) const {
        const double apart = (rho - clearance_) / sd_, s2 = sd_ * sd_;
        return -clearance_ / s2 * std::exp(-0.5 * apart * apart) * scaled_bessel_i1(rho * clearance_ / s2);
    }
    double sd_, clearance_;
    double low_ = 0, high_ = 0, step_ = 1;
    std::array<double, intervals + 1> values_{}, slopes_{};
};

// Even points of one outer normal, in its standard deviations.
int half_count(double sd, double edge) {
    if (sd <= 0) return 0;
    return static_cast<int>(std::ceil(reach / std::min(widest_step, step_in_edges * edge / sd)));
}

struct Blunted {
    std::vector<Target> targets;
    std::vector<HitTable> tables;
    std::vector<std::size_t> table_of;
    double edge = 0;  // the sharpest
    double longest = 0;
    bool even = true;  // nothing known beforehand: P(θ, t) = P(−θ, −t)
};

Blunted prepare(std::span<const Target> targets, double offset_sd, double yaw_sd) {
    Blunted all;
    all.targets.assign(targets.begin(), targets.end());
    for (const Target& target : targets) all.longest = std::max(all.longest, target.arm.norm());
    const double least = std::max(1e-9, sharpest_edge * std::max(offset_sd, yaw_sd * all.longest));
    all.edge = std::numeric_limits<double>::infinity();
    for (Target& target : all.targets) {
        target.sd = std::max(target.sd, least);
        all.edge = std::min(all.edge, target.sd);
        const auto known = std::find_if(all.tables.begin(), all.tables.end(), [&](const HitTable& table) {
            return table.same(target.sd, target.clearance);
        });
        all.table_of.push_back(static_cast<std::size_t>(known - all.tables.begin()));
        if (known == all.tables.end()) all.tables.emplace_back(target.sd, target.clearance);
    }
    for (const Target& target : all.targets)
        all.even = all.even && target.known.norm() < no_distance * all.edge;
    return all;
}

}  // namespace

double joint_probability(std::span<const Target> targets, double offset_sd, double yaw_sd) {
    if (targets.empty()) return 1;
    if (std::any_of(targets.begin(), targets.end(), [](const Target& t) { return t.clearance <= 0; }))
        return 0;
    const Blunted all = prepare(targets, offset_sd, yaw_sd);
    const int n_t = half_count(offset_sd, all.edge), n_yaw = half_count(yaw_sd * all.longest, all.edge);
    const double h_t = n_t > 0 ? reach / n_t : 0, h_yaw = n_yaw > 0 ? reach / n_yaw : 0;
    const std::size_t n = all.targets.size();
    std::vector<Vec2> at(n);
    double sum = 0, weights = 0;
    for (int k = all.even ? 0 : -n_yaw; k <= n_yaw; ++k) {
        const double z = k * h_yaw, yaw = z * yaw_sd;
        const double twin = all.even && k > 0 ? 2 : 1;  // the plane at −z counts the same
        for (std::size_t v = 0; v < n; ++v)
            at[v] = all.targets[v].known + yaw * Vec2(-all.targets[v].arm.y(), all.targets[v].arm.x());
        for (int i = -n_t; i <= n_t; ++i) {
            const double x = i * h_t;
            if (z * z + x * x > reach * reach) continue;
            for (int j = -n_t; j <= n_t; ++j) {
                const double y = j * h_t, r2 = z * z + x * x + y * y;
                if (r2 > reach * reach) continue;
                const double weight = twin * std::exp(-0.5 * r2);
                weights += weight;
                double product = 1;
                for (std::size_t v = 0; v < n && product > nothing; ++v) {
                    const double dx = at[v].x() + offset_sd * x, dy = at[v].y() + offset_sd * y;
                    product *= all.tables[all.table_of[v]](dx * dx + dy * dy);
                }
                sum += weight * product;
            }
        }
    }
    return std::clamp(sum / weights, 0.0, 1.0);
}

}  // namespace seatwright::find
