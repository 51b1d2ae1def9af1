#include "seatwright/forecast/stems.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "seatwright/base/numerics/normal.hpp"
#include "seatwright/forecast/quadrature.hpp"
#include "seatwright/forecast/smoothing.hpp"

namespace seatwright::forecast {
namespace {

constexpr double stem_tail = 5.6;  // sd beyond which nothing is
constexpr double fine = 0.5;       // sd from place to place, at most
constexpr double of_zero = 0.75;   // of the zero's sd, where it is summed or decides

// The more seats, the sharper the density of the highest where all are kept within a spread: a sum over it up
// to a limit needs places the closer, errors then stay below 5e-7 (tests/forecast/heights_test.cpp).
double fine_of(const StemsGiven& g) {
    constexpr double of_one = 0.62, by_many = -0.4;
    if (!g.spread) return fine;
    return std::min(fine,
                    of_one * std::pow(static_cast<double>(std::max(g.planned.size(), g.of_kind)), by_many));
}

double wanted_step(const StemsGiven& g, double fineness) {
    double step = fine_of(g) * fineness * g.sd;
    if (!g.window.open() && g.zero_sd > 0) step = std::min(step, of_zero * fineness * g.zero_sd);
    return step;
}

double step_of(const StemsGiven& g, double fineness) {
    const double wanted = wanted_step(g, fineness);
    return g.spread ? *g.spread / std::ceil(*g.spread / wanted) : wanted;
}

}  // namespace

bool Stems::suits(const StemsGiven& g) {
    constexpr double least = 1.0 / 10;  // of the scatter, for a step
    if (g.planned.empty() || g.sd <= 0) return false;
    if (g.spread && *g.spread <= 0) return false;
    return step_of(g, 1) >= least * g.sd;
}

Stems::Stems(StemsGiven given, double fineness)
    : given_(std::move(given)), step_(step_of(given_, fineness)), rows_(step_ / given_.sd) {
    if (given_.spread) steps_of_spread_ = static_cast<std::size_t>(std::llround(*given_.spread / step_));
    at_.resize(given_.planned.size());
}

double Stems::sharpness(const Vec2& direction, bool common) const {
    double middle = 0;
    for (const Vec2& from : given_.from_zero)
        middle += from.dot(direction) / static_cast<double>(given_.from_zero.size());
    const double from = common ? 0 : middle;
    double most = 0;
    for (const Vec2& at : given_.from_zero) most = std::max(most, std::abs(at.dot(direction) - from));
    most /= given_.sd;
    // Where the window decides the zero blurs what all have in common.
    if (!given_.window.open())
        most = std::max(most, std::abs(middle) / std::hypot(given_.sd, given_.zero_sd));
    return most;
}

void Stems::means(const Vec2& attitude) const {
    for (std::size_t i = 0; i < at_.size(); ++i)
        at_[i] = given_.planned[i] - attitude.dot(given_.from_zero[i]);
}

// all_[k]: the density of the highest at first + k·step, the others within S below it; within_[k]: that all
// are.
std::size_t Stems::highest_density(double first, std::size_t n) const {
    for (auto* row : {&above_, &below_, &density_, &within_, &all_})
        if (row->size() < n) row->resize(n);
    std::fill_n(within_.begin(), n, 1.0);
    std::fill_n(all_.begin(), n, 0.0);
    for (const double at : at_) {
        rows_.of((first - at) / given_.sd, n, above_.data(), density_.data());
        if (given_.spread) {
            rows_.of((first - *given_.spread - at) / given_.sd, n, below_.data());
            take_in(n, above_.data(), below_.data(), density_.data(), within_.data(), all_.data());
        } else {
            take_in(n, above_.data(), density_.data(), within_.data(), all_.data());
        }
    }
    return n;
}

void Stems::on(const Vec2& attitude, double first, std::size_t n, double* within, double* highest) const {
    means(attitude);
    highest_density(first, n);
    std::copy_n(within_.begin(), n, within);
    for (std::size_t k = 0; k < n; ++k) highest[k] = all_[k] / given_.sd;
}

// What counts of a place so many whole places below a limit that lies `beyond` a place, from far above it to
// far below.
const std::vector<double>& Stems::parts_below(double beyond) const {
    constexpr int reach = 128;
    for (const auto& [at, parts] : parts_)
        if (std::abs(at - beyond) < 1e-9) return parts;
    std::vector<double> parts;
    for (int k = -reach; k <= reach; ++k) parts.push_back(part_below(k + beyond));
    parts.front() = 0;
    parts.back() = 1;
    return parts_.emplace_back(beyond, std::move(parts)).second;
}

// `up`: the upper limit counts (or none, where there is none), else the lower: heights turned upside down.
void Stems::one_end(const Vec2& attitude, std::span<const double> raised, bool up, double* out) const {
    means(attitude);
    std::optional<double> limit = up ? given_.window.high : given_.window.low;
    if (!up) {
        for (double& at : at_) at = -at;
        limit = -*limit;
    }
    const auto [low, high] = std::minmax_element(at_.begin(), at_.end());
    double from = *high - stem_tail * given_.sd;
    const double to =
        (given_.spread ? std::min(*low + *given_.spread, *high) : *high) + stem_tail * given_.sd;
    std::fill_n(out, raised.size(), 0.0);
    if (to <= from) return;
    // Without a zero the limit is a place, so that what lies below it is always the same places.
    const bool cut = limit && given_.zero_sd <= 0;
    if (cut) from = *limit - step_ * std::ceil((*limit - from) / step_);
    const auto n = static_cast<std::size_t>(std::ceil((to - from) / step_)) + 1;
    highest_density(from, n);
    const NormalTable& phi = normal_table();
    const double scale = step_ / given_.sd;
    for (std::size_t r = 0; r < raised.size(); ++r) {
        double sum = 0;
        if (!limit) {
            for (std::size_t k = 0; k < n; ++k) sum += all_[k];
        } else if (cut) {
            const double above = (*limit - from) / step_ - (up ? raised[r] : -raised[r]) / step_;
            const double whole = std::floor(above + 1e-9);
            const auto& parts = parts_below(above - whole);
            const std::size_t half = parts.size() / 2;
            const auto reach = static_cast<double>(half);
            for (std::size_t k = 0; k < n; ++k) {
                const double at = std::clamp(whole - static_cast<double>(k), -reach, reach);
                sum += all_[k] * parts[static_cast<std::size_t>(at + reach)];
            }
        } else {
            const double lifted = *limit - (up ? raised[r] : -raised[r]);
            for (std::size_t k = 0; k < n; ++k)
                sum += all_[k] * phi((lifted - from - step_ * static_cast<double>(k)) / given_.zero_sd);
        }
        out[r] = sum * scale;
    }
}

// Without a spread: each within the window, the zero summed over.
void Stems::window_alone(const Vec2& attitude, std::span<const double> raised, double* out) const {
    means(attitude);
    const auto n = given_.zero_sd > 0
                       ? 2 * static_cast<std::size_t>(std::ceil(stem_tail * given_.zero_sd / step_)) + 1
                       : std::size_t{1};
    for (auto* row : {&above_, &below_, &within_})
        if (row->size() < n) row->resize(n);
    const std::size_t middle = n / 2;
    const double first = -step_ * static_cast<double>(middle);
    for (std::size_t r = 0; r < raised.size(); ++r) {
        std::fill_n(within_.begin(), n, 1.0);
        // Places of −zero, so that both rows run up.
        for (const double at : at_) {
            const double mean = at + raised[r];
            if (given_.window.high)
                rows_.of((*given_.window.high - mean + first) / given_.sd, n, above_.data());
            else
                std::fill_n(above_.begin(), n, 1.0);
            if (given_.window.low)
                rows_.of((*given_.window.low - mean + first) / given_.sd, n, below_.data());
            else
                std::fill_n(below_.begin(), n, 0.0);
            for (std::size_t k = 0; k < n; ++k) within_[k] *= std::max(0.0, above_[k] - below_[k]);
        }
        double sum = 0, weights = 0;
        for (std::size_t k = 0; k < n; ++k) {
            const double z = n == 1 ? 0 : (first + step_ * static_cast<double>(k)) / given_.zero_sd;
            const double weight = std::exp(-0.5 * z * z);
            sum += weight * within_[k];
            weights += weight;
        }
        out[r] = sum / weights;
    }
}

void Stems::chance(const Vec2& attitude, std::span<const double> raised, double* out) const {
    const Window& window = given_.window;
    if (!given_.spread) {
        if (window.open())
            std::fill_n(out, raised.size(), 1.0);
        else
            window_alone(attitude, raised, out);
        return;
    }
    if (!window.low) {
        one_end(attitude, raised, true, out);
        return;
    }
    one_end(attitude, raised, false, out);
    if (!window.high) return;
    std::vector<double> other(raised.size());
    one_end(attitude, raised, true, other.data());
    // Less what neither end leaves: the sum of the densities just made.
    double neither = 0;
    {
        const auto [low, high] = std::minmax_element(at_.begin(), at_.end());
        const double from = *high - stem_tail * given_.sd,
                     to = std::min(*low + *given_.spread, *high) + stem_tail * given_.sd;
        const std::size_t n = to <= from ? 0 : static_cast<std::size_t>(std::ceil((to - from) / step_)) + 1;
        for (std::size_t k = 0; k < n; ++k) neither += all_[k];
        neither *= step_ / given_.sd;
    }
    for (std::size_t r = 0; r < raised.size(); ++r) out[r] = std::max(0.0, out[r] + other[r] - neither);
}

}  // namespace seatwright::forecast
