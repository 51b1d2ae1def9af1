#include "seatwright/forecast/runout.hpp"

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "seatwright/base/numerics/normal.hpp"
#include "seatwright/base/units.hpp"
#include "seatwright/forecast/bessel.hpp"
#include "seatwright/forecast/chebyshev.hpp"
#include "seatwright/forecast/quadrature.hpp"

namespace seatwright::forecast {
namespace {

// Part of a disc of radius a, its centre R away, that lies within ℓ: the lens of two circles.
double lens_share(double distance, double limit, double disc) {
    const double r = distance, l = limit, a = disc;
    if (l <= 0) return 0;
    if (r + a <= l) return 1;
    if (r >= l + a) return 0;
    if (r + l <= a) return l * l / (a * a);
    const double at_l = std::clamp((r * r + l * l - a * a) / (2 * r * l), -1.0, 1.0);
    const double at_a = std::clamp((r * r + a * a - l * l) / (2 * r * a), -1.0, 1.0);
    const double kite = (-r + l + a) * (r + l - a) * (r - l + a) * (r + l + a);
    const double area =
        l * l * std::acos(at_l) + a * a * std::acos(at_a) - 0.5 * std::sqrt(std::max(0.0, kite));
    return area / (pi * a * a);
}

double ring_share(double distance, double limit, double ring) {
    if (limit <= 0) return 0;
    if (distance + ring <= limit) return 1;
    if (std::abs(distance - ring) >= limit) return 0;
    const double x = (limit * limit - distance * distance - ring * ring) / (2 * distance * ring);
    return 1 - std::acos(std::clamp(x, -1.0, 1.0)) / pi;
}

// Without the normal part.
double sharp(double distance, double limit, double disc, double ring) {
    if (disc <= 0 && ring <= 0) return distance <= limit ? 1 : 0;
    if (disc <= 0) return ring_share(distance, limit, ring);
    if (ring <= 0) return lens_share(distance, limit, disc);
    // Mean over the ring's direction; the lens is smooth between the angles at which it becomes whole or
    // none.
    std::array<double, 5> cuts{0, pi, pi, pi, pi};
    std::size_t n = 1;
    for (const double at : {limit - disc, limit + disc, disc - limit}) {
        if (at <= 0 || distance <= 0) continue;
        const double x = (at * at - distance * distance - ring * ring) / (2 * distance * ring);
        if (std::abs(x) < 1) cuts[n++] = std::acos(x);
    }
    cuts[n++] = pi;
    std::sort(cuts.begin(), cuts.begin() + static_cast<long>(n));
    double sum = 0;
    for (std::size_t i = 0; i + 1 < n; ++i)
        sum += integral_between_kinks<32>(cuts[i], cuts[i + 1], [&](double phi) {
            const double r2 = distance * distance + ring * ring + 2 * distance * ring * std::cos(phi);
            return lens_share(std::sqrt(std::max(0.0, r2)), limit, disc);
        });
    return sum / pi;
}

// Density of |R·e + N(0, σ²·I)| at r (Rice), scaled so that nothing overflows.
double rice(double r, double distance, double sd) {
    const double z = r * distance / (sd * sd), gap = (r - distance) / sd;
    return r / (sd * sd) * std::exp(-0.5 * gap * gap) * scaled_bessel_i0(z);
}

constexpr double runout_tail = 8.5;  // sd: beyond lies less than 1e-16

}  // namespace

double chance_within(double distance, double limit, const Blur& blur) {
    if (limit <= 0) return 0;
    if (blur.normal <= 0) return sharp(distance, limit, blur.disc, blur.ring);
    const double low = std::max(0.0, distance - runout_tail * blur.normal),
                 high = distance + runout_tail * blur.normal;
    // What is sharp bends where circles touch.
    const double far = blur.disc + blur.ring, near = std::abs(blur.disc - blur.ring);
    std::array<double, 8> cuts{low, high};
    std::size_t n = 2;
    for (const double at : {limit - far, limit + far, limit - near, limit + near, far - limit, distance})
        if (at > low && at < high) cuts[n++] = at;
    std::sort(cuts.begin(), cuts.begin() + static_cast<long>(n));
    double sum = 0;
    for (std::size_t i = 0; i + 1 < n; ++i)
        sum += integral_between_kinks<24>(cuts[i], cuts[i + 1], [&](double r) {
            const double inside = sharp(r, limit, blur.disc, blur.ring);
            return inside == 0 ? 0.0 : inside * rice(r, distance, blur.normal);
        });
    return std::clamp(sum, 0.0, 1.0);
}

namespace {

// What is told of a displacement: that it, measured with `sd`, is within `mean`; and is good too.
struct Read {
    double mean, sd;
    bool good;
};
Read read_of(double limit, double u, Judged judged) {
    const bool loose = judged == Judged::not_failed || judged == Judged::good_not_failed;
    return {loose ? limit + u : limit - u, u / 2,
            judged == Judged::good_passed || judged == Judged::good_not_failed};
}

// The limit on the displacement's radius that a measured runout comes to, as a sum of sharp ones: measured
// inside by U = 2u is runout + N(0, u²) ≤ limit − U, half of it as a radius.
// In `panels` of nodes: one where what is summed is smooth.
std::vector<Step> steps_of(double limit, double u, Judged judged, int panels) {
    const Read read = read_of(limit, u, judged);
    const double most = read.good ? limit : read.mean + runout_tail * read.sd;
    const double least = std::max(0.0, read.mean - runout_tail * read.sd);
    std::vector<Step> out;
    const auto& rule = Legendre<40>::rule();
    for (int p = 0; p < panels && most > least; ++p)
        for (std::size_t i = 0; i < rule.x.size(); ++i) {
            const double half = (most - least) / panels / 2;
            const double at = least + half * (2 * p + 1 + rule.x[i]), z = (at - read.mean) / read.sd;
            out.push_back({at, half * rule.w[i] * std::exp(-0.5 * z * z) / (read.sd * std::sqrt(2 * pi))});
        }
    if (read.good) out.push_back({limit, numerics::normal_above((limit - read.mean) / read.sd)});
    return out;
}

}  // namespace

namespace {

// With a normal part G is a Hankel integral, the transforms of what blurs multiplied:
//   G(R) = ∫ J0(R·k) · e^(−σ²k²/2) · J0(ρk) · 2·J1(ak)/(ak) · ℓ·J1(ℓk) dk.
// At the places given, rising; false: it would take too many nodes.
bool by_transform(const Blur& blur, const std::vector<Step>& steps, const std::vector<double>& places,
                  std::vector<double>& at) {
    double widest = 0;
    for (const Step& s : steps) widest = std::max(widest, s.at);
    const double longest = places.back() + blur.disc + blur.ring + widest;
    const double furthest = 7 / blur.normal;
    constexpr int nodes = 16;
    constexpr double phase = 20;  // that one panel of nodes takes
    const double panels = std::ceil(furthest * longest / phase) + 1;
    if (panels * nodes > 8000) return false;
    const auto& rule = Legendre<nodes>::rule();
    for (int p = 0; p < static_cast<int>(panels); ++p)
        for (std::size_t j = 0; j < nodes; ++j) {
            const double half = furthest / panels / 2, k = half * (2 * p + 1 + rule.x[j]);
            double weight = half * rule.w[j] * std::exp(-0.5 * k * k * blur.normal * blur.normal);
            if (weight * widest < 1e-15) continue;
            if (blur.ring > 0) weight *= ::j0(blur.ring * k);
            if (blur.disc > 0) weight *= 2 * ::j1(blur.disc * k) / (blur.disc * k);
            double limits = 0;
            for (const Step& s : steps) limits += s.weight * s.at * ::j1(s.at * k);
            add_j0(places, k, weight * limits, at.data());
        }
    return true;
}

}  // namespace

CountTable::CountTable(const Counts& counts) {
    const auto& [limit, u, judged, blur] = counts;
    const bool measured = judged != Judged::good && u && *u > 0;
    constexpr int many_panels = 6;
    const int panels = blur.normal > 0 ? 1 : many_panels;
    const auto steps = measured ? steps_of(limit, *u, judged, panels) : std::vector<Step>{{limit, 1}};
    // Only where something is still open: nearer everything counts, further out nothing.
    const double wide = blur.disc + blur.ring + 7 * blur.normal, read = measured ? runout_tail * *u : 0;
    first_ = std::max(0.0, limit - wide - read);
    const double last = limit + wide + read;
    constexpr double cells_a_sd = 20;
    cells_ = blur.normal > 0 ? static_cast<std::size_t>(
                                   std::clamp(cells_a_sd * (last - first_) / blur.normal, 64.0, most_cells))
                             : static_cast<std::size_t>(most_cells);
    step_ = (last - first_) / static_cast<double>(cells_);
    at_.assign(cells_ + 4, 0);
    const auto place = [&](std::size_t i) {
        return first_ + step_ * (static_cast<double>(i) - 1);  // from one before the first
    };
    if (blur.normal > 0) {
        // A smooth curve: known at few places.
        const auto n = static_cast<std::size_t>(std::min(24 + 3.4 * (last - first_) / blur.normal, 400.0));
        const auto places = Chebyshev::places(first_, last, n);
        std::vector<double> values(n, 0);
        if (by_transform(blur, steps, places, values)) {
            const Chebyshev curve(first_, last, values);
            for (std::size_t i = 0; i < at_.size(); ++i)
                at_[i] = std::clamp(curve(std::clamp(std::abs(place(i)), first_, last)), 0.0, 1.0);
            return;
        }
    }
    for (std::size_t i = 0; i < at_.size(); ++i) {
        const double displaced = std::abs(place(i));
        double sum = 0;
        for (const Step& s : steps) sum += s.weight * chance_within(displaced, s.at, blur);
        at_[i] = std::clamp(sum, 0.0, 1.0);
    }
}

std::shared_ptr<const CountTable> CountTables::of(const Counts& counts) {
    return cache_.get(counts.key(), [&] { return std::make_shared<const CountTable>(counts); });
}

SeatChance::SeatChance(const Batch& batch, const Seat& seat, Judged judged, CountTables& tables) {
    const double own = batch.own_sd(seat), sine = std::sin(seat.angle),
                 half = seat.gauge / 2 * std::cos(seat.angle);
    sigma_ = std::hypot(own, batch.positioning_sd);
    room_ = seat.room.value_or(std::numeric_limits<double>::infinity());
    reach_ = std::abs(seat.bend * sine + half * (1 - batch.share) * seat.bend * seat.bend_slope);
    lean_ = half * batch.share;
    residual_ = seat.residual;
    always_ = !seat.runout_max;
    if (always_) return;
    const Blur blur{seat.play * sine, seat.pilot_runout / 2 * sine, lean_ * batch.guide_angle_sd};
    blur_ = blur.normal + (blur.disc + blur.ring) / 3;
    smooth_ = blur.normal;
    const double limit = *seat.runout_max / 2;
    const bool measured = judged != Judged::good && batch.runout_u && *batch.runout_u > 0;
    if (blur.disc <= 0 && blur.ring <= 0 && blur.normal <= 0) {
        steps_ = measured ? steps_of(limit, *batch.runout_u, judged, 1) : std::vector<Step>{{limit, 1}};
        if (measured) {
            const Read read = read_of(limit, *batch.runout_u, judged);
            read_mean_ = read.mean;
            read_sd_ = read.sd;
            if (read.good) good_limit_ = limit;
        } else {
            good_limit_ = limit;
        }
        return;
    }
    table_ = tables.of({limit, measured ? batch.runout_u : std::nullopt, judged, blur});
}

double SeatChance::lean_softness() const {
    if (always_) return std::numeric_limits<double>::infinity();
    return std::max(reach_ * sigma_, blur_);
}

double SeatChance::lean_sharpness() const {
    if (always_ || lean_ == 0) return 0;
    const double wide = std::hypot(reach_ * sigma_, smooth_);
    return wide > 0 ? lean_ / wide : std::numeric_limits<double>::infinity();
}

double SeatChance::bend_width() const {
    return smooth_ > 0 ? smooth_ : std::max(blur_, 1e-6) / 2;
}

bool SeatChance::same(const SeatChance& other) const {
    const auto alike = [](const std::vector<Step>& a, const std::vector<Step>& b) {
        return a.size() == b.size() &&
               std::equal(a.begin(), a.end(), b.begin(),
                          [](const Step& x, const Step& y) { return x.at == y.at && x.weight == y.weight; });
    };
    return read_mean_ == other.read_mean_ && read_sd_ == other.read_sd_ && good_limit_ == other.good_limit_ &&
           sigma_ == other.sigma_ && room_ == other.room_ && reach_ == other.reach_ &&
           always_ == other.always_ && table_ == other.table_ && alike(steps_, other.steps_);
}

double SeatChance::running(double lean) const {
    if (always_) return 1;
    return table_ ? (*table_)(lean) : unblurred(lean);
}

// Where nothing blurs the displacement.
double SeatChance::unblurred(double displaced) const {
    if (displaced > good_limit_) return 0;
    return read_sd_ > 0 ? numerics::normal_above((displaced - read_mean_) / read_sd_) : 1;
}

double SeatChance::operator()(const Vec2& miss, const Vec2& lean) const {
    if (parts()) return entering(miss.norm()) * running(lean.norm());
    if (sigma_ <= 0) {
        if (miss.norm() > room_) return 0;
        if (always_) return 1;
        const double at = (reach_ * miss + lean).norm();
        return table_ ? (*table_)(at) : unblurred(at);
    }
    if (table_) return smooth(miss, lean);
    if (always_) return stepped(miss, lean, std::numeric_limits<double>::infinity());
    double sum = 0;
    for (const Step& step : steps_) sum += step.weight * stepped(miss, lean, step.at);
    return sum;
}

namespace {

constexpr double far_enough = 6.5;  // sd of the miss: 6.7e-10 lies beyond

// Radii about the middle of the mouth at which there is something to integrate.
struct Radii {
    double low, high;
};
Radii radii_of(double mean, double sigma, double room) {
    return {std::max(0.0, mean - far_enough * sigma), std::min(room, mean + far_enough * sigma)};
}

// Widths of the density along the circle that one sum of nodes takes.
constexpr double an_arc = 6;

// Half the angle about the mean's direction beyond which the density at that radius is nothing.
double window_of(double mean, double sigma, double r) {
    const double z = r * mean / (sigma * sigma);
    constexpr double drop = 21;  // e^-21 = 8e-10
    return z <= drop / 2 ? pi : std::acos(1 - drop / z);
}

}  // namespace

// The density of |m| (Rice) over the mouth.
double SeatChance::entering(double miss) const {
    if (!std::isfinite(room_)) return 1;
    if (sigma_ <= 0) return miss <= room_ ? 1 : 0;
    const auto [low, high] = radii_of(miss, sigma_, room_);
    if (high <= low) return 0;
    const auto density = [&](double r) { return rice(r, miss, sigma_); };
    const double middle = (low + high) / 2;
    return std::clamp(integral<24>(low, middle, density) + integral<24>(middle, high, density), 0.0, 1.0);
}

// G a step: at each radius the arc on which the displacement is within it.
double SeatChance::stepped(const Vec2& miss, const Vec2& lean, double limit) const {
    const double mean = miss.norm(), lies = lean.norm(), s2 = sigma_ * sigma_;
    const auto [low, high] = radii_of(mean, sigma_, room_);
    if (high <= low) return 0;
    std::array<double, 4> cuts{low, high};
    std::size_t n = 2;
    if (!always_ && reach_ > 0)
        for (const double at : {std::abs(limit - lies) / reach_, (limit + lies) / reach_})
            if (at > low && at < high) cuts[n++] = at;
    std::sort(cuts.begin(), cuts.begin() + static_cast<long>(n));
    const double between =
        lies > 0 && mean > 0 ? std::atan2(lean.y(), lean.x()) - std::atan2(miss.y(), miss.x()) : 0;
    const auto at_radius = [&](double r) {
        const double z = r * mean / s2, gap = (r - mean) / sigma_;
        const double scale = r / s2 * std::exp(-0.5 * gap * gap);
        // |B·r·e + κ| ≤ ℓ where cos(φ − φκ) ≤ x.
        double x = 1;
        if (!always_ && reach_ * r * lies > 0)
            x = (limit * limit - reach_ * reach_ * r * r - lies * lies) / (2 * reach_ * r * lies);
        else if (!always_ && reach_ * r + lies > limit)
            x = -1;
        if (x >= 1) return scale * scaled_bessel_i0(z);
        if (x <= -1) return 0.0;
        // The arc that is left out is centred on κ's direction.
        const double half = std::acos(x), window = window_of(mean, sigma_, r);
        const auto density = [&](double phi) { return std::exp(-z * (1 - std::cos(phi))) / (2 * pi); };
        double sum = 0;
        const double from = between + half, to = between + 2 * pi - half;
        for (const double turn : {-2 * pi, 0.0, 2 * pi}) {
            const double a = std::max(from + turn, -window), b = std::min(to + turn, window);
            const double arcs = std::ceil(std::max(1.0, (b - a) * std::sqrt(z) / an_arc));
            for (double k = 0; b > a && k < arcs; ++k)
                sum += integral<16>(a + (b - a) * k / arcs, a + (b - a) * (k + 1) / arcs, density);
        }
        return scale * sum;
    };
    double sum = 0;
    for (std::size_t i = 0; i + 1 < n; ++i) sum += integral<16>(cuts[i], cuts[i + 1], at_radius);
    return std::clamp(sum, 0.0, 1.0);
}

double SeatChance::smooth(const Vec2& miss, const Vec2& lean) const {
    const double mean = miss.norm(), lies = lean.norm(), s2 = sigma_ * sigma_;
    const auto [low, high] = radii_of(mean, sigma_, room_);
    if (high <= low) return 0;
    const double between =
        lies > 0 && mean > 0 ? std::atan2(lean.y(), lean.x()) - std::atan2(miss.y(), miss.x()) : 0;
    // No panel of nodes wider than a few of the narrowest things in it.
    constexpr double a_panel = 3;
    const double bends = bend_width();
    const auto at_radius = [&](double r) {
        const double z = r * mean / s2, gap = (r - mean) / sigma_, moved = reach_ * r;
        const double scale = r / s2 * std::exp(-0.5 * gap * gap);
        if (moved * lies <= 0) return scale * scaled_bessel_i0(z) * (*table_)(moved + lies);
        const double window = window_of(mean, sigma_, r);
        const auto one = [&](double phi) {
            const double away = moved * moved + lies * lies + 2 * moved * lies * std::cos(phi - between);
            return std::exp(-z * (1 - std::cos(phi))) * (*table_)(std::sqrt(std::max(0.0, away)));
        };
        // Along the arc the displacement changes by no more than the smaller of the two a radian.
        const double arcs =
            std::clamp(std::ceil(2 * window *
                                 std::max(std::min(moved, lies) / (a_panel * bends), std::sqrt(z) / an_arc)),
                       1.0, 32.0);
        double sum = 0;
        for (double k = 0; k < arcs; ++k)
            sum += integral<16>(-window + 2 * window * k / arcs, -window + 2 * window * (k + 1) / arcs, one);
        return scale * sum / (2 * pi);
    };
    const double panels =
        std::clamp(std::ceil((high - low) / std::min(4 * sigma_, a_panel * bends / reach_)), 1.0, 32.0);
    double sum = 0;
    for (double k = 0; k < panels; ++k)
        sum +=
            integral<12>(low + (high - low) * k / panels, low + (high - low) * (k + 1) / panels, at_radius);
    return std::clamp(sum, 0.0, 1.0);
}

// The angles apart: von Mises' e^(z·cos φ) has the coefficients I_n(z), G about a circle of radius B·r has
// its own, and a mean over all directions multiplies them.
bool SeatChance::cosines(const std::vector<double>& misses, const std::vector<double>& leans,
                         std::size_t turns, std::vector<double>& out) const {
    if (!table_ || sigma_ <= 0 || reach_ <= 0) return false;
    const double furthest = std::min(room_, misses.back() + far_enough * sigma_);
    const double panel = std::min(3 * sigma_, 3 * bend_width() / reach_);
    const double wanted = std::ceil(furthest / panel);
    constexpr std::size_t nodes = 12, around = 48;
    constexpr double most_panels = 32;
    if (!(wanted <= most_panels)) return false;
    const auto panels = static_cast<std::size_t>(std::max(1.0, wanted));
    const auto& rule = Legendre<nodes>::rule();
    std::array<double, around> cosine{};
    for (std::size_t j = 0; j < around; ++j)
        cosine[j] = std::cos(pi * (static_cast<double>(j) + 0.5) / around);
    using Rows = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
    const auto many = [](std::size_t n) { return static_cast<Eigen::Index>(n); };
    const std::size_t radii = panels * nodes, wide = leans.size();
    Rows to_cosines(many(turns), many(around));
    for (Eigen::Index n = 0; n < to_cosines.rows(); ++n)
        for (Eigen::Index j = 0; j < to_cosines.cols(); ++j)
            to_cosines(n, j) =
                std::cos(pi * static_cast<double>(n) * (static_cast<double>(j) + 0.5) / around) *
                (n == 0 ? 1.0 : 2.0) / around;
    // Of each radius: G about its circle at every lean, and what every miss weighs it with.
    Rows about(many(around), many(wide));
    std::vector<Rows> of(turns, Rows(many(radii), many(wide))),
        weight(turns, Rows::Zero(many(misses.size()), many(radii)));
    std::vector<double> by(turns);
    for (std::size_t p = 0; p < radii; ++p) {
        const double half = furthest / static_cast<double>(panels) / 2;
        const std::size_t panel_of = p / nodes;
        const double r = half * (2 * static_cast<double>(panel_of) + 1 + rule.x[p % nodes]);
        const double moved = reach_ * r;
        for (std::size_t l = 0; l < wide; ++l) {
            if (const auto same = table_->constant(std::abs(moved - leans[l]), moved + leans[l])) {
                about.col(many(l)).setConstant(*same);
                continue;
            }
            const double base = moved * moved + leans[l] * leans[l], twice = 2 * moved * leans[l];
            for (std::size_t j = 0; j < around; ++j)
                about(many(j), many(l)) = (*table_)(std::sqrt(std::max(0.0, base + twice * cosine[j])));
        }
        const Rows parts = to_cosines * about;
        for (std::size_t n = 0; n < turns; ++n) of[n].row(many(p)) = parts.row(many(n));
        for (std::size_t m = 0; m < misses.size(); ++m) {
            const double gap = (r - misses[m]) / sigma_, s2 = sigma_ * sigma_;
            if (std::abs(gap) > far_enough + 2) continue;
            scaled_bessel_i(r * misses[m] / s2, turns, by.data());
            const double scale = half * rule.w[p % nodes] * r / s2 * std::exp(-0.5 * gap * gap);
            for (std::size_t n = 0; n < turns; ++n) weight[n](many(m), many(p)) = scale * by[n];
        }
    }
    out.assign(misses.size() * wide * turns, 0);
    for (std::size_t n = 0; n < turns; ++n) {
        const Rows all = weight[n] * of[n];
        for (std::size_t i = 0; i < misses.size() * wide; ++i) out[i * turns + n] = all.data()[i];
    }
    return true;
}

}  // namespace seatwright::forecast
