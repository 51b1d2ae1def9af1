#include "seatwright/forecast/normal_rows.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/numerics/normal.hpp"
#include "seatwright/forecast/vectors.hpp"

namespace seatwright::forecast {
namespace {

constexpr double reach = 8.0;
constexpr std::size_t shifts = 16;

struct Weights {
    double a, b, c, d;
};

SEATWRIGHT_VECTORS
void blend(std::size_t n, const Weights& w, const double* value, const double* next_value,
           const double* slope, const double* next_slope, double* out) {
    for (std::size_t k = 0; k < n; ++k)
        out[k] = w.a * value[k] + w.b * next_value[k] + w.c * slope[k] + w.d * next_slope[k];
}

SEATWRIGHT_VECTORS
void take_between(std::size_t n, const double* above, const double* below, const double* density,
                  double* within, double* of_all) {
    for (std::size_t k = 0; k < n; ++k) {
        const double inside = above[k] - below[k];
        of_all[k] = of_all[k] * inside + within[k] * density[k];
        within[k] *= inside;
    }
}

SEATWRIGHT_VECTORS
void take_below(std::size_t n, const double* above, const double* density, double* within, double* of_all) {
    for (std::size_t k = 0; k < n; ++k) {
        of_all[k] = of_all[k] * above[k] + within[k] * density[k];
        within[k] *= above[k];
    }
}

}  // namespace

void take_in(std::size_t n, const double* above, const double* below, const double* density, double* within,
             double* density_of_all) {
    take_between(n, above, below, density, within, density_of_all);
}
void take_in(std::size_t n, const double* above, const double* density, double* within,
             double* density_of_all) {
    take_below(n, above, density, within, density_of_all);
}

NormalRows::NormalRows(double step)
    : step_(step), long_(static_cast<std::size_t>(std::ceil(2 * reach / step)) + 2) {
    const std::size_t all = (shifts + 1) * long_;
    below_.resize(all);
    density_.resize(all);
    slope_.resize(all);
    for (std::size_t f = 0; f <= shifts; ++f)
        for (std::size_t k = 0; k < long_; ++k) {
            const double z =
                (static_cast<double>(k) + static_cast<double>(f) / static_cast<double>(shifts)) * step -
                reach;
            const std::size_t at = f * long_ + k;
            below_[at] = numerics::normal_below(z);
            density_[at] = numerics::normal_density(z);
            slope_[at] = -z * density_[at];
        }
}

void NormalRows::of(double z, std::size_t n, double* below) const {
    of(z, n, below, nullptr);
}

void NormalRows::of(double z, std::size_t n, double* below, double* density) const {
    const double p = std::clamp((z + reach) / step_, -1e9, 1e9);
    const double whole = std::floor(p);
    const auto from = static_cast<long>(whole);
    const double f = (p - whole) * static_cast<double>(shifts);
    const auto row = std::min(static_cast<std::size_t>(f), shifts - 1);
    const double t = f - static_cast<double>(row), s = 1 - t;
    const double cell = step_ / static_cast<double>(shifts);
    const Weights w{s * s * (1 + 2 * t), t * t * (3 - 2 * t), t * s * s * cell, -t * t * s * cell};
    // Before the table's places 0, after them 1.
    const auto before = static_cast<std::size_t>(std::clamp(-from, 0L, static_cast<long>(n)));
    const long left = static_cast<long>(long_) - std::max(0L, from);
    const std::size_t many = std::min(n - before, static_cast<std::size_t>(std::max(0L, left)));
    const std::size_t at = row * long_ + static_cast<std::size_t>(std::max(0L, from));
    std::fill_n(below, before, 0.0);
    if (many > 0)
        blend(many, w, &below_[at], &below_[at + long_], &density_[at], &density_[at + long_],
              below + before);
    std::fill(below + before + many, below + n, 1.0);
    if (density == nullptr) return;
    std::fill_n(density, before, 0.0);
    if (many > 0)
        blend(many, w, &density_[at], &density_[at + long_], &slope_[at], &slope_[at + long_],
              density + before);
    std::fill(density + before + many, density + n, 0.0);
}

}  // namespace seatwright::forecast
