#include "seatwright/find/assign.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <queue>

namespace seatwright::find {
namespace {

// A search this long (a second or so) has met touches that fit nowhere.
constexpr std::size_t most_nodes = 2'000'000;
// Newton on the one unknown, from a start within a right angle of it.
constexpr int most_yaw_steps = 30;
constexpr double yaw_settled = 1e-12;

struct Node {
    double cost = 0;   // chi2 and variances so far
    double extra = 0;  // the part from variances
    std::size_t depth = 0;
    PairSums sums;
    std::array<std::uint8_t, most_unlabelled> guide{};
};

struct Later {
    // Least cost first; among equals the deeper, then the smaller names, so that the answer is one.
    bool operator()(const Node& a, const Node& b) const {
        if (a.cost != b.cost) return a.cost > b.cost;
        if (a.depth != b.depth) return a.depth < b.depth;
        return a.guide > b.guide;
    }
};

// Least chi2 over yaw and offset of the pairs in `sums`, yaw within a right angle of 0.
double least_chi2(const PairSums& sums, const Prior& prior) {
    if (sums.weight <= 0) return 0;
    const PairSums c = sums.centred();
    const double base = c.map2 + c.read2;
    if (!prior.yaw_sd) {
        const double reach = c.dot >= 0 ? std::hypot(c.dot, c.cross) : std::abs(c.cross);
        return std::max(0.0, base - 2 * reach);
    }
    const double weight = 1 / (*prior.yaw_sd * *prior.yaw_sd);
    double yaw = prior.yaw;
    for (int i = 0; i < most_yaw_steps; ++i) {
        const double pull = c.cross * std::cos(yaw) - c.dot * std::sin(yaw) + weight * (prior.yaw - yaw);
        const double step = pull / (c.map2 + weight);
        yaw += step;
        if (std::abs(step) < yaw_settled) break;
    }
    const double turn = yaw - prior.yaw;
    return std::max(0.0, base - 2 * (c.dot * std::cos(yaw) + c.cross * std::sin(yaw)) + weight * turn * turn);
}

// Farthest pair first, then whatever is farthest from those taken: early touches then pin the pose.
std::vector<std::size_t> far_apart_first(std::span<const Unlabelled> touches) {
    std::vector<std::size_t> order;
    std::vector<double> gap(touches.size(), 0);
    Vec2 middle = Vec2::Zero();
    for (const Unlabelled& t : touches) middle += t.at / static_cast<double>(touches.size());
    for (std::size_t i = 0; i < touches.size(); ++i) gap[i] = (touches[i].at - middle).norm();
    std::vector<bool> taken(touches.size(), false);
    while (order.size() < touches.size()) {
        std::size_t next = 0;
        double most = -1;
        for (std::size_t i = 0; i < touches.size(); ++i)
            if (!taken[i] && gap[i] > most) {
                most = gap[i];
                next = i;
            }
        taken[next] = true;
        order.push_back(next);
        for (std::size_t i = 0; i < touches.size(); ++i) {
            const double d = (touches[i].at - touches[next].at).norm();
            gap[i] = order.size() == 1 ? d : std::min(gap[i], d);
        }
    }
    return order;
}

struct Search {
    std::span<const Expected> guides;
    std::span<const Unlabelled> touches;
    Prior prior;
    std::vector<bool> open;          // guides that may be given
    std::vector<std::size_t> order;  // of touches
    Vec2 map_origin = Vec2::Zero(), read_origin = Vec2::Zero();
    double least_variance = 0;
    std::size_t nodes = 0;
    std::priority_queue<Node, std::vector<Node>, Later> queue{};

    void grow(const Node& node) {
        const Unlabelled& touch = touches[order[node.depth]];
        const double sd = std::max(touch.sd, least_sd);
        for (std::size_t g = 0; g < guides.size(); ++g) {
            if (!open[g]) continue;
            const auto end = node.guide.begin() + static_cast<std::ptrdiff_t>(node.depth);
            if (std::find(node.guide.begin(), end, static_cast<std::uint8_t>(g)) != end) continue;
            const double variance = guides[g].scatter * guides[g].scatter + sd * sd;
            Node next = node;
            next.guide[next.depth++] = static_cast<std::uint8_t>(g);
            next.sums.add(guides[g].map - map_origin, touch.at - read_origin, 1 / variance);
            next.extra += 2 * std::log(variance / least_variance);
            next.cost = least_chi2(next.sums, prior) + next.extra;
            queue.push(next);
            ++nodes;
        }
    }
};

std::vector<std::size_t> names_along(const Node& node, const std::vector<std::size_t>& order) {
    std::vector<std::size_t> guide(order.size());
    for (std::size_t i = 0; i < order.size(); ++i) guide[order[i]] = node.guide[i];
    return guide;
}

}  // namespace

Solved<Assigned> assign_unlabelled(std::span<const Expected> guides, std::span<const Reading> labelled,
                                   std::span<const Unlabelled> touches, const Prior& prior) {
    const std::vector<Combined> read = combine(guides.size(), labelled);
    Search search{guides, touches, prior, {}, far_apart_first(touches)};
    if (search.prior.yaw_sd) search.prior.yaw_sd = std::max(*search.prior.yaw_sd, 1e-12);
    std::size_t free = 0;
    double least_scatter = guides.empty() ? 0 : guides.front().scatter;
    for (std::size_t g = 0; g < guides.size(); ++g) {
        search.open.push_back(read[g].weight <= 0);
        free += search.open.back() ? 1 : 0;
        least_scatter = std::min(least_scatter, guides[g].scatter);
        search.map_origin += guides[g].map / static_cast<double>(guides.size());
    }
    if (touches.empty()) return Assigned{};
    if (touches.size() > free || touches.size() > most_unlabelled)
        return tl::unexpected(SolverError{"assignment", 0, 0,
                                          touches.size() > free
                                              ? "more unlabelled touches than guides not yet touched"
                                              : "too many unlabelled touches: label some"});
    search.read_origin = touches.front().at;
    double sd = touches.front().sd;
    for (const Unlabelled& t : touches) sd = std::min(sd, t.sd);
    search.least_variance = least_scatter * least_scatter + std::max(sd, least_sd) * std::max(sd, least_sd);

    Node root;
    for (std::size_t g = 0; g < guides.size(); ++g)
        if (read[g].weight > 0)
            root.sums.add(guides[g].map - search.map_origin, read[g].mean - search.read_origin,
                          1 / (guides[g].scatter * guides[g].scatter + 1 / read[g].weight));
    if (prior.offset_sd) {
        const double offset_sd = std::max(*prior.offset_sd, least_sd);
        root.sums.add(-search.map_origin, prior.offset - search.read_origin, 1 / (offset_sd * offset_sd));
    }
    const double base = least_chi2(root.sums, search.prior);
    search.queue.push(root);
    std::optional<Assigned> best;
    while (!search.queue.empty() && search.nodes < most_nodes) {
        const Node node = search.queue.top();
        search.queue.pop();
        if (best && node.cost - base - best->cost > 2 * std::log(no_rival)) break;
        if (node.depth < touches.size()) {
            search.grow(node);
            continue;
        }
        if (best) {
            best->odds = std::exp(0.5 * (node.cost - base - best->cost));
            best->runner_up = names_along(node, search.order);
            break;
        }
        best = Assigned{names_along(node, search.order), node.cost - base, std::nullopt, {}};
    }
    if (!best)
        return tl::unexpected(SolverError{"assignment", static_cast<int>(search.nodes), 0,
                                          "the unlabelled touches fit the pattern nowhere"});
    return *best;
}

}  // namespace seatwright::find
