#include "seatwright/find/hit_table.hpp"

#include <algorithm>
#include <cmath>

namespace seatwright::find {
namespace {

constexpr double hit_edge = 5.6;  // beyond it F is 1 or 0 to 1e-8
constexpr std::size_t distances = 64;

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

}  // namespace

HitTable::HitTable(double sd, double clearance) : sd_(sd), clearance_(clearance) {
    if (clearance_ <= 0) return;
    const double low = std::max(0.0, clearance_ - hit_edge * sd_), high = clearance_ + hit_edge * sd_;
    low2_ = low * low;
    high2_ = high * high;
    per_step_ = static_cast<double>(squares) / (high2_ - low2_);
    lay_out(low, (high - low) / distances);
}

double HitTable::slope(double rho) const {
    const double apart = (rho - clearance_) / sd_, s2 = sd_ * sd_;
    return -clearance_ / s2 * std::exp(-0.5 * apart * apart) * scaled_bessel_i1(rho * clearance_ / s2);
}

void HitTable::lay_out(double low, double step) {
    double value = low > 0 ? 1.0 : -std::expm1(-0.5 * clearance_ * clearance_ / (sd_ * sd_));
    double slope_here = slope(low);
    std::size_t next = 0;
    for (std::size_t i = 0; i < distances; ++i) {
        const double at = low + static_cast<double>(i) * step;
        // Gauss-Legendre, three points.
        const double half = 0.5 * step, off = half * 0.7745966692414834;
        const double after =
            value +
            half / 9 * (5 * slope(at + half - off) + 8 * slope(at + half) + 5 * slope(at + half + off));
        const double slope_after = slope(at + step);
        for (; next <= squares; ++next) {
            const double t = (std::sqrt(low2_ + static_cast<double>(next) / per_step_) - at) / step;
            if (t > 1 && i + 1 < distances) break;
            const double s = 1 - t;
            values_[next] = std::clamp(s * s * ((1 + 2 * t) * value + t * slope_here * step) +
                                           t * t * ((1 + 2 * s) * after - s * slope_after * step),
                                       0.0, 1.0);
        }
        value = after;
        slope_here = slope_after;
    }
}

}  // namespace seatwright::find
