#include "seatwright/find/next_touch.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/numerics/disc_probability.hpp"

namespace seatwright::find {
namespace {

constexpr double same_probability = 1e-9;  // accuracy of the disc probability

// What is known, as far as covariances go: the pose's information and each guide's own weight.
struct Knowledge {
    double weight = 0;  // W
    Vec2 centroid = Vec2::Zero();
    double turning = 0;         // 1/yaw_variance
    std::vector<double> share;  // k_v: scatter²/(scatter² + 1/W_v), 0 = not touched

    // One touch on guide v, not touched before.
    void add(const Expected& guide, std::size_t v, double sd) {
        const double scatter2 = guide.scatter * guide.scatter, error2 = sd * sd;
        const double w = 1 / (scatter2 + error2);
        turning += weight * w / (weight + w) * (guide.map - centroid).squaredNorm();
        centroid = (weight * centroid + w * guide.map) / (weight + w);
        weight += w;
        share[v] = scatter2 * w;
    }
};

struct Sizes {
    double small = 0, large = 0;  // variances in the principal axes, positioning included
};

Sizes spread_of(const Knowledge& known, const Expected& guide, std::size_t v, double positioning_sd) {
    const double left = 1 - known.share[v];
    Sizes spread;
    spread.small =
        left * left / known.weight + guide.scatter * guide.scatter * left + positioning_sd * positioning_sd;
    spread.large = spread.small + left * left * (guide.map - known.centroid).squaredNorm() / known.turning;
    return spread;
}

struct Score {
    double least = 1;        // least predicted probability
    double worst_ratio = 0;  // largest variance over clearance²
};

struct Judge {
    std::span<const Expected> guides;
    std::span<const std::optional<double>> clearance;
    const TouchRules& rules;

    double ratio(const Sizes& spread, std::size_t v) const {
        const double c = clearance[v].value_or(1.0);
        return c > 0 ? spread.large / (c * c) : spread.large * 1e12;
    }

    // The least probability is only worked out for guides that could be the least: P is at least that of a
    // round normal of the larger variance. Stops early once below `floor`.
    Score score(const Knowledge& known, double floor) const {
        std::vector<std::pair<double, std::size_t>> order(guides.size());
        std::vector<Sizes> spreads(guides.size());
        for (std::size_t v = 0; v < guides.size(); ++v) {
            spreads[v] = spread_of(known, guides[v], v, rules.positioning_sd);
            order[v] = {ratio(spreads[v], v), v};
        }
        std::sort(order.begin(), order.end(), [](const auto& a, const auto& b) {
            return a.first != b.first ? a.first > b.first : a.second < b.second;
        });
        Score score;
        score.worst_ratio = order.empty() ? 0 : order.front().first;
        for (const auto& [size, v] : order) {
            if (!clearance[v]) continue;
            if (-std::expm1(-0.5 / size) >= score.least) break;
            score.least = std::min(score.least, numerics::centred_disc_probability(
                                                    spreads[v].small, spreads[v].large, *clearance[v]));
            if (score.least < floor) break;
        }
        return score;
    }
};

bool better(const Score& a, const Score& b) {
    if (std::abs(a.least - b.least) > same_probability) return a.least > b.least;
    return a.worst_ratio < b.worst_ratio * (1 - same_probability);
}

}  // namespace

TouchPlan plan_touches(std::span<const Expected> guides, std::span<const Combined> read, const Pose& pose,
                       std::span<const std::optional<double>> clearance, std::optional<double> least_now,
                       const std::vector<bool>& may_touch, const TouchRules& rules) {
    const double sd = std::max(rules.touch_sd, least_sd);
    Knowledge known{pose.weight, pose.centroid, 1 / pose.yaw_variance, {}};
    for (std::size_t v = 0; v < guides.size(); ++v) {
        const double scatter2 = guides[v].scatter * guides[v].scatter;
        known.share.push_back(read[v].weight > 0 ? scatter2 / (scatter2 + 1 / read[v].weight) : 0);
    }
    const Judge judge{guides, clearance, rules};
    std::vector<std::size_t> open;
    for (std::size_t v = 0; v < guides.size(); ++v)
        if (may_touch[v]) open.push_back(v);

    TouchPlan plan;
    const bool counted = least_now.has_value();
    if (counted && *least_now >= rules.target) plan.to_target = 0;
    bool reachable = false;
    if (counted && !plan.to_target) {
        Knowledge all = known;
        for (const std::size_t v : open) all.add(guides[v], v, sd);
        reachable = judge.score(all, -1).least >= rules.target;
    }
    for (int touches = 1; !open.empty(); ++touches) {
        std::size_t best = 0;
        Score best_score{-1, 0};
        for (std::size_t i = 0; i < open.size(); ++i) {
            Knowledge then = known;
            then.add(guides[open[i]], open[i], sd);
            const Score score = judge.score(then, best_score.least - same_probability);
            if (best_score.least < 0 || better(score, best_score)) {
                best = i;
                best_score = score;
            }
        }
        if (!plan.next) {
            plan.next = open[best];
            if (counted) plan.least_if_next = best_score.least;
        }
        if (!reachable) break;
        known.add(guides[open[best]], open[best], sd);
        open.erase(open.begin() + static_cast<std::ptrdiff_t>(best));
        if (best_score.least >= rules.target) {
            plan.to_target = touches;
            break;
        }
    }
    return plan;
}

}  // namespace seatwright::find
