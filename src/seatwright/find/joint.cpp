#include "seatwright/find/joint.hpp"

#include <algorithm>
#include <array>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <numbers>
#include <vector>

namespace seatwright::find {
namespace {

// The outer integrals stop at this many standard deviations in all directions (chi-square(3) tail 1.5e-5);
// the weights kept are made to sum to one, so that what is lost is counted like the rest.
constexpr double reach = 5.0;
// Step of the trapezoidal rule in widths of the outer normals themselves, at most.
constexpr double widest_step = 0.8;
// Edges sharper than this share of the outer spread are integrated along rays.
constexpr double sharp_edge = 0.1;
// No edge is taken sharper than this share: P moves by less than its accuracy.
constexpr double sharpest_edge = 1e-3;
// For those: rays a turn, and the step in yaw as a share of the offset's spread, at the fine step.
constexpr double rays_a_turn = 64, yaw_step_in_offsets = 0.5;
// Known distances below this share of the edge are taken as none: P moves by less than its square.
constexpr double no_distance = 0.02;

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

// F for one (s, c) over the squared distance: integrated from its derivative on even distances, laid out on
// even squares (no square root at the look-up), straight between. The straight pieces err by 1e-6 at most,
// either way of the edge alike.
class HitTable {
  public:
    HitTable(double sd, double clearance) : sd_(sd), clearance_(clearance) {
        if (clearance_ <= 0) return;
        const double low = std::max(0.0, clearance_ - edge * sd_), high = clearance_ + edge * sd_;
        low2_ = low * low;
        high2_ = high * high;
        per_step_ = static_cast<double>(squares) / (high2_ - low2_);
        lay_out(low, (high - low) / distances);
    }
    bool same(double sd, double clearance) const { return sd == sd_ && clearance == clearance_; }
    // Up to low2() F is 1, or its value at the centre where low2() is 0; from high2() on it is 0.
    double low2() const { return low2_; }
    double high2() const { return high2_; }
    double operator()(double distance2) const {
        const double u = (distance2 - low2_) * per_step_;
        if (u >= squares) return 0;
        if (u <= 0) return values_[0];
        const auto i = static_cast<std::size_t>(u);
        return values_[i] + (u - static_cast<double>(i)) * (values_[i + 1] - values_[i]);
    }

  private:
    static constexpr double edge = 5.6;  // beyond it F is 1 or 0 to 1e-8
    static constexpr std::size_t distances = 64, squares = 2048;

    double slope(double rho) const {
        const double apart = (rho - clearance_) / sd_, s2 = sd_ * sd_;
        return -clearance_ / s2 * std::exp(-0.5 * apart * apart) * scaled_bessel_i1(rho * clearance_ / s2);
    }
    void lay_out(double low, double step) {
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
    double sd_, clearance_;
    double low2_ = 0, high2_ = 0, per_step_ = 1;
    std::array<double, squares + 1> values_{};
};

// Even points of one outer normal, in its standard deviations.
int half_count(double sd, double edge, double step_in_edges) {
    if (sd <= 0) return 0;
    return static_cast<int>(std::ceil(reach / std::min(widest_step, step_in_edges * edge / sd)));
}

struct Blunted {
    std::vector<Target> targets;
    std::vector<HitTable> tables;
    std::vector<std::size_t> table_of;
    double edge = 0;  // the sharpest
    double longest = 0;
    double spread = 0;  // of the offset or, at the longest arm, of the yaw
    bool even = true;   // nothing known beforehand: P(θ, t) = P(−θ, −t)
};

Blunted prepare(std::span<const Target> targets, double offset_sd, double yaw_sd) {
    Blunted all;
    all.targets.assign(targets.begin(), targets.end());
    for (const Target& target : targets) all.longest = std::max(all.longest, target.arm.norm());
    all.spread = std::max(offset_sd, yaw_sd * all.longest);
    const double least = std::max(1e-9, (offset_sd > 0 ? sharpest_edge : sharp_edge) * all.spread);
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

// One outer normal's points, their weights, and sums of the weights from the middle outwards.
struct Axis {
    Axis(int half, double apart) : half_count(half), step(apart) {
        for (int i = 0; i <= half; ++i) {
            weight.push_back(std::exp(-0.5 * (i * step) * (i * step)));
            within.push_back(i == 0 ? weight[0] : within.back() + 2 * weight.back());
        }
    }
    int half_count;
    double step;
    std::vector<double> weight;  // of the points ±i
    std::vector<double> within;  // of all points from −i to i
};

// The sum of the weighted products over one row of points y, all other coordinates fixed. Only where some
// factor is neither 0 nor 1 is it looked up.
class Row {
  public:
    Row(const Blunted& all, const Axis& axis, double sd) : all_(all), axis_(axis), spacing_(sd * axis.step) {}

    // Guide v is `across[v]` off in x and at `along[v]` for y = 0; points −half to half.
    double sum(const std::vector<double>& across, const std::vector<double>& along, int half) {
        int from = -half, to = half;
        const double end = half * spacing_;
        active_.clear();
        for (std::size_t v = 0; v < across.size(); ++v) {
            const HitTable& table = all_.tables[all_.table_of[v]];
            const double x2 = across[v] * across[v];
            const double farthest = std::abs(along[v]) + end;
            const double farthest2 = x2 + farthest * farthest;
            if (farthest2 <= table.low2()) continue;
            if (farthest2 > table.high2()) {
                if (x2 >= table.high2()) return 0;
                const double outer = std::sqrt(table.high2() - x2);
                from = std::max(from, point_above(-outer - along[v]));
                to = std::min(to, point_below(outer - along[v]));
                if (from > to) return 0;
            }
            active_.push_back({&table, x2, along[v]});
        }
        product_.assign(static_cast<std::size_t>(to - from + 1), 1.0);
        for (const Active& guide : active_) {
            if (guide.x2 >= guide.table->low2()) {
                multiply(guide, from, from, to);
                continue;
            }
            const double inner = std::sqrt(guide.table->low2() - guide.x2);
            const int left = std::min(to, point_above(-inner - guide.along) - 1);
            const int right = std::max({from, left + 1, point_below(inner - guide.along) + 1});
            multiply(guide, from, from, left);
            multiply(guide, from, right, to);
        }
        double total = 0;
        for (int j = from; j <= to; ++j)
            total += axis_.weight[static_cast<std::size_t>(std::abs(j))] *
                     product_[static_cast<std::size_t>(j - from)];
        return total;
    }

  private:
    struct Active {  // a guide that some point of the row may miss
        const HitTable* table = nullptr;
        double x2 = 0, along = 0;
    };
    // The first point not below, the last one not above y; far ones are all alike.
    int point_above(double y) const { return -point_below(-y); }
    int point_below(double y) const {
        const double most = axis_.half_count + 1.0;
        const int shift = axis_.half_count + 2;  // casts round towards zero: keep them positive
        return static_cast<int>(std::clamp(y / spacing_, -most, most) + shift) - shift;
    }
    void multiply(const Active& guide, int origin, int first, int last) {
        for (int j = first; j <= last; ++j) {
            const double y = guide.along + j * spacing_;
            product_[static_cast<std::size_t>(j - origin)] *= (*guide.table)(guide.x2 + y * y);
        }
    }

    const Blunted& all_;
    const Axis& axis_;
    double spacing_;
    std::vector<Active> active_;
    std::vector<double> product_;
};

// The same for one plane of yaw along rays: an edge however sharp takes a few points of its own, what lies
// between the edges is closed.
class Rays {
  public:
    Rays(const Blunted& all, double sd, int rays) : all_(all), sd_(sd), rays_(rays) {}

    // The chance of a hit, guide v being `at[v]` off for no offset.
    double chance(const std::vector<Vec2>& at) {
        Vec2 low = -at.front(), high = low;
        for (const Vec2& p : at) {
            low = low.cwiseMin(-p);
            high = high.cwiseMax(-p);
        }
        const Vec2 middle = 0.5 * (low + high);
        double sum = 0;
        for (int k = 0; k < rays_; ++k) {
            const double turn = 2 * std::numbers::pi * (k + 0.5) / rays_;
            sum += along({std::cos(turn), std::sin(turn)}, middle, at);
        }
        return sum / (rays_ * sd_ * sd_);
    }

  private:
    struct Guide {
        const HitTable* table = nullptr;
        double b = 0, p2 = 0;  // distance² at r is r² + 2br + p2
    };

    // ∫ r·exp(−|middle + r·way|²/2sd²)·ΠF dr
    double along(const Vec2& way, const Vec2& middle, const std::vector<Vec2>& at) {
        double low = 0, high = std::numeric_limits<double>::infinity(), sure_low = 0, sure_high = high;
        guides_.clear();
        for (std::size_t v = 0; v < at.size(); ++v) {
            const Vec2 p = at[v] + middle;
            const HitTable& table = all_.tables[all_.table_of[v]];
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

    double closed(double r, double offset) const {
        const double z = (r + offset) / sd_;
        return -sd_ * sd_ * std::exp(-0.5 * z * z) -
               offset * sd_ * std::sqrt(0.5 * std::numbers::pi) * std::erf(z / std::numbers::sqrt2);
    }

    double edge(double from, double to, double offset, double apart2) const {
        if (!(from < to)) return 0;
        return boost::math::quadrature::gauss<double, 10>::integrate(
            [&](double r) {
                double value = r * std::exp(-0.5 * ((r + offset) * (r + offset) + apart2) / (sd_ * sd_));
                for (const Guide& guide : guides_)
                    value *= (*guide.table)(r * r + 2 * guide.b * r + guide.p2);
                return value;
            },
            from, to);
    }

    const Blunted& all_;
    double sd_;
    int rays_;
    std::vector<Guide> guides_;
};

// Points of a row or plane within `reach` when the other coordinates are `r2` (squared) off the middle.
int half_left(double r2, const Axis& axis) {
    const double left = reach * reach - r2;
    if (left < 0) return -1;
    return std::min(axis.half_count, static_cast<int>(std::sqrt(left) / axis.step + 1e-9));
}

// Where each guide lies for no offset at a yaw error.
void turn_to(double yaw, const Blunted& all, std::vector<Vec2>& at) {
    for (std::size_t v = 0; v < at.size(); ++v)
        at[v] = all.targets[v].known + yaw * Vec2(-all.targets[v].arm.y(), all.targets[v].arm.x());
}

double by_rows(const Blunted& all, double offset_sd, double yaw_sd, double step_in_edges) {
    const auto axis = [&](double sd) {
        const int half = half_count(sd, all.edge, step_in_edges);
        return Axis(half, half > 0 ? reach / half : 1);
    };
    const Axis yaws = axis(yaw_sd * all.longest), offsets = axis(offset_sd);
    Row row(all, offsets, std::max(offset_sd, 1e-300));
    const std::size_t n = all.targets.size();
    std::vector<Vec2> at(n);
    std::vector<double> across(n), along(n);
    double sum = 0, weights = 0;
    for (int k = all.even ? 0 : -yaws.half_count; k <= yaws.half_count; ++k) {
        const double z = k * yaws.step;
        const double twin = all.even && k > 0 ? 2 : 1;  // the plane at −z counts the same
        const double plane = twin * yaws.weight[static_cast<std::size_t>(std::abs(k))];
        turn_to(z * yaw_sd, all, at);
        for (std::size_t v = 0; v < n; ++v) along[v] = at[v].y();
        const int rows = half_left(z * z, offsets);
        for (int i = -rows; i <= rows; ++i) {
            const double x = i * offsets.step;
            const int points = half_left(z * z + x * x, offsets);
            if (points < 0) continue;
            const double weight = plane * offsets.weight[static_cast<std::size_t>(std::abs(i))];
            weights += weight * offsets.within[static_cast<std::size_t>(points)];
            for (std::size_t v = 0; v < n; ++v) across[v] = at[v].x() + offset_sd * x;
            sum += weight * row.sum(across, along, points);
        }
    }
    return sum / weights;
}

double by_rays(const Blunted& all, double offset_sd, double yaw_sd, double step_in_edges) {
    // The offset blunts what yaw sees of the edges.
    const int half = half_count(yaw_sd * all.longest, yaw_step_in_offsets * offset_sd, step_in_edges);
    const Axis yaws(half, half > 0 ? reach / half : 1);
    Rays rays(all, offset_sd, static_cast<int>(std::lround(rays_a_turn / step_in_edges)));
    std::vector<Vec2> at(all.targets.size());
    double sum = 0, weights = 0;
    for (int k = all.even ? 0 : -half; k <= half; ++k) {
        const double z = k * yaws.step;
        const double weight =
            (all.even && k > 0 ? 2 : 1) * yaws.weight[static_cast<std::size_t>(std::abs(k))];
        turn_to(z * yaw_sd, all, at);
        sum += weight * rays.chance(at);
        weights += weight;
    }
    return sum / weights;
}

}  // namespace

double joint_probability(std::span<const Target> targets, double offset_sd, double yaw_sd,
                         double step_in_edges) {
    if (targets.empty()) return 1;
    if (std::any_of(targets.begin(), targets.end(), [](const Target& t) { return t.clearance <= 0; }))
        return 0;
    const Blunted all = prepare(targets, offset_sd, yaw_sd);
    const bool sharp = offset_sd > 0 && all.edge < sharp_edge * all.spread;
    const double chance = sharp ? by_rays(all, offset_sd, yaw_sd, step_in_edges)
                                : by_rows(all, offset_sd, yaw_sd, step_in_edges);
    return std::clamp(chance, 0.0, 1.0);
}

}  // namespace seatwright::find
