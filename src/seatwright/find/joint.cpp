#include "seatwright/find/joint.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss.hpp>
#include <cmath>
#include <deque>
#include <limits>
#include <numbers>
#include <vector>

#include "seatwright/find/hit_table.hpp"
#include "seatwright/find/joint_rays.hpp"

namespace seatwright::find {
namespace {

using boost::math::quadrature::gauss;

// The outer integrals stop at this many standard deviations in all directions (chi-square(3) tail 1.5e-5);
// the weights kept are made to sum to one, so that what is lost is counted like the rest.
constexpr double reach_in_sds = 5.0;
// Step of the trapezoidal rule in widths of the outer normals themselves, at most.
constexpr double widest_step = 0.8;
// Edges sharper than this share of the offset's spread are integrated along rays.
constexpr double sharp_edge = 0.1;
// No edge is taken sharper than this share: P moves by less than its accuracy. Nor sharper than 1 pm.
constexpr double sharpest_edge = 1e-3, no_edge = 1e-9;
// For those: rays a turn at the fine step; the first panel of the yaw in edges, and how far below the widest
// it may be; two discs of the largest clearance overlap well within so many clearances; a normal's far end;
// and the least panel, since a disc of a twentieth of the offset's spread is hit once in a thousand.
constexpr double rays_a_turn = 64, first_panel_in_edges = 2, most_halvings = 64, overlap = 4, far_in_sds = 6;
constexpr double least_panel_in_offsets = 0.05;
// Known distances below this share of the edge are taken as none: P moves by less than its square.
constexpr double no_distance = 0.02;

// Even points of one outer normal, in its standard deviations.
int half_count(double sd, double edge, double step_in_edges) {
    if (sd <= 0) return 0;
    return static_cast<int>(std::ceil(reach_in_sds / std::min(widest_step, step_in_edges * edge / sd)));
}

struct Blunted {
    std::vector<Target> targets;
    std::deque<HitTable> tables;
    std::vector<const HitTable*> table_of;
    double edge = 0;  // the sharpest
    double longest = 0, most_known = 0, bluntest = 0;
    double least_clearance = 0, most_clearance = 0;
    double spread = 0;  // of the offset or, at the longest arm, of the yaw
    bool even = true;   // nothing known beforehand: P(θ, t) = P(−θ, −t)
};

Blunted prepare(std::span<const Target> targets, double offset_sd, double yaw_sd) {
    Blunted all;
    all.targets.assign(targets.begin(), targets.end());
    for (const Target& target : targets) all.longest = std::max(all.longest, target.arm.norm());
    all.spread = std::max(offset_sd, yaw_sd * all.longest);
    const double least = std::max(no_edge, sharpest_edge * all.spread);
    all.edge = all.least_clearance = std::numeric_limits<double>::infinity();
    for (Target& target : all.targets) {
        target.sd = std::max(target.sd, least);
        all.edge = std::min(all.edge, target.sd);
        all.bluntest = std::max(all.bluntest, target.sd);
        all.most_known = std::max(all.most_known, target.known.norm());
        all.least_clearance = std::min(all.least_clearance, target.clearance);
        all.most_clearance = std::max(all.most_clearance, target.clearance);
        const auto known = std::find_if(all.tables.begin(), all.tables.end(), [&](const HitTable& table) {
            return table.same(target.sd, target.clearance);
        });
        all.table_of.push_back(
            known != all.tables.end() ? &*known : &all.tables.emplace_back(target.sd, target.clearance));
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
            const HitTable& table = *all_.table_of[v];
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

// Points of a row or plane within `reach` when the other coordinates are `r2` (squared) off the middle.
int half_left(double r2, const Axis& axis) {
    const double left = reach_in_sds * reach_in_sds - r2;
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
        return Axis(half, half > 0 ? reach_in_sds / half : 1);
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

// Panels of the yaw from none outwards, mm at the longest arm: as a function of it the chance bends sharply
// where the discs of two guides fall together, at none where nothing is known beforehand, so no panel lies
// across that; the bend is as blunt as the edges. While discs still overlap the chance changes over their own
// size, further out over the offset's spread.
std::vector<double> yaw_panels(const Blunted& all, double offset_sd, double most) {
    const double near = std::clamp(all.least_clearance, least_panel_in_offsets * offset_sd, offset_sd);
    double width = std::clamp(first_panel_in_edges * all.edge, near / most_halvings, near);
    std::vector<double> ends{0};
    while (ends.back() < most) {
        ends.push_back(std::min(most, ends.back() + width));
        width = std::min(2 * width, ends.back() < overlap * all.most_clearance ? near : offset_sd);
    }
    return ends;
}

double by_rays(const Blunted& all, double offset_sd, double yaw_sd, double step_in_edges) {
    Rays rays(all.table_of, offset_sd, static_cast<int>(std::lround(rays_a_turn / step_in_edges)));
    std::vector<Vec2> at(all.targets.size());
    const auto chance = [&](double yaw) {
        turn_to(yaw, all, at);
        return rays.chance(at);
    };
    const double arm = yaw_sd * all.longest;  // mm at the longest arm in one standard deviation
    if (!(arm > 0)) return chance(0);
    const auto both_sides = [&](double mm) {
        const double density = std::exp(-0.5 * mm * mm / (arm * arm));
        const double there = chance(mm / all.longest);
        return density * (all.even ? 2 * there : there + chance(-mm / all.longest));
    };
    double sum = 0;
    // Beyond this the guide at the longest arm is missed whatever the offset.
    const double missed = all.most_clearance + all.most_known + far_in_sds * (offset_sd + all.bluntest);
    const std::vector<double> ends = yaw_panels(all, offset_sd, std::min(reach_in_sds * arm, missed));
    for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
        sum += step_in_edges > fine_step ? gauss<double, 3>::integrate(both_sides, ends[i], ends[i + 1])
                                         : gauss<double, 5>::integrate(both_sides, ends[i], ends[i + 1]);
    }
    const double weights =
        arm * std::sqrt(2 * std::numbers::pi) * std::erf(reach_in_sds / std::numbers::sqrt2);
    return sum / weights;
}

}  // namespace

double joint_probability(std::span<const Target> targets, double offset_sd, double yaw_sd,
                         double step_in_edges) {
    if (targets.empty()) return 1;
    if (std::any_of(targets.begin(), targets.end(), [](const Target& t) { return t.clearance <= 0; }))
        return 0;
    const Blunted all = prepare(targets, offset_sd, yaw_sd);
    const bool sharp = all.edge < sharp_edge * offset_sd;
    const double chance = sharp ? by_rays(all, offset_sd, yaw_sd, step_in_edges)
                                : by_rows(all, offset_sd, yaw_sd, step_in_edges);
    return std::clamp(chance, 0.0, 1.0);
}

}  // namespace seatwright::find
