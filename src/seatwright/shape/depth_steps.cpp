#include "seatwright/shape/depth_steps.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <queue>
#include <utility>

#include "seatwright/base/fault.hpp"
#include "seatwright/job/kind_index.hpp"

namespace seatwright::shape {

namespace {

// Rounding noise of sums such as 0.12 + 0.02, as a part of a step; the ends of a window get a quarter of it
// so that whatever a box lets through, the final check lets through too.
constexpr double noise = 1e-6;
constexpr double window_noise = noise / 4;
// A seat with no limit: ten metres at the finest step the planner asks for, 1e-5 mm.
constexpr std::int64_t far = 1'000'000'000;
constexpr int most_nodes = 4'000;
constexpr int most_rounds = 64;  // of tightening one box; each round moves a bound by a step or more
constexpr std::size_t chamber_window = 2;  // index of the chamber window; 0 and 1 are the kinds' stem windows

using Steps = std::vector<std::int64_t>;

// Where the lower end of each window may lie.
struct StepBox {
    std::array<double, 3> low{-no_limit, -no_limit, -no_limit};
    std::array<double, 3> high{no_limit, no_limit, no_limit};
};

struct Node {
    StepBox box;
    Steps k;
    std::int64_t total = 0;
    int born = 0;
};
struct Later {
    bool operator()(const Node& a, const Node& b) const {
        return a.total != b.total ? a.total > b.total : a.born > b.born;
    }
};

std::int64_t up(double steps, double slack) {
    return static_cast<std::int64_t>(std::ceil(std::clamp(steps - slack, -double(far), double(far))));
}
std::int64_t down(double steps, double slack) {
    return static_cast<std::int64_t>(std::floor(std::clamp(steps + slack, -double(far), double(far))));
}

class Search {
  public:
    explicit Search(const DepthProblem& problem) : p_(problem), members_(problem.chamber.size()) {
        for (std::size_t i = 0; i < p_.seats.size(); ++i) {
            base_low_.push_back(up(p_.seats[i].low / p_.step, noise));
            base_high_.push_back(p_.seats[i].high < no_limit ? down(p_.seats[i].high / p_.step, noise) : far);
            if (p_.holds_chambers() && p_.seats[i].cylinder) members_[*p_.seats[i].cylinder].push_back(i);
        }
    }

    tl::expected<StepPlan, NoSteps> run() {
        std::priority_queue<Node, std::vector<Node>, Later> open;
        std::optional<Node> found;
        int born = 0;
        const auto grow = [&](const StepBox& box) {
            auto node = relax(box);
            if (!node) return;
            node->born = born++;
            if (keeps_all(node->k) && (!found || node->total < found->total)) found = node;
            open.push(std::move(*node));
        };
        grow(StepBox{});
        int looked = 0;
        for (; !open.empty() && looked < most_nodes; ++looked) {
            const Node best = open.top();
            if (found && found->total <= best.total) return plan_of(*found, true, looked + 1);
            open.pop();
            const auto [window, at] = split(best.k);
            StepBox left = best.box, right = best.box;
            left.high[window] = std::min(left.high[window], at);
            right.low[window] = std::max(right.low[window], at);
            grow(left);
            grow(right);
        }
        if (found) return plan_of(*found, open.empty(), looked);
        return tl::unexpected(open.empty() ? NoSteps::none_exists : NoSteps::not_found);
    }

  private:
    double stem(std::size_t i, std::int64_t k) const { return *p_.seats[i].stem + p_.step * double(k); }
    bool held(std::size_t i) const { return p_.holds_stems() && p_.seats[i].stem.has_value(); }
    double bite(std::size_t i) const { return p_.step * p_.area[p_.seats[i].kind]; }
    double volume(std::size_t c, const Steps& k) const {
        double v = p_.chamber[c];
        for (const auto i : members_[c]) v += bite(i) * double(k[i]);
        return v;
    }

    StepPlan plan_of(const Node& node, bool proven, int nodes) const {
        StepPlan plan;
        std::int64_t total = 0;
        for (const auto k : node.k) {
            plan.depth.push_back(p_.step * double(k));
            total += k;
        }
        plan.total = p_.step * double(total);
        plan.proven = proven;
        plan.nodes = nodes;
        return plan;
    }

    // Highest less lowest of each window's quantity, lowest.
    struct Spread {
        double low = no_limit, high = -no_limit;
        void add(double v) {
            low = std::min(low, v);
            high = std::max(high, v);
        }
    };
    std::array<Spread, 3> spreads(const Steps& k) const {
        std::array<Spread, 3> out;
        for (std::size_t i = 0; i < k.size(); ++i)
            if (held(i)) out[index_of(p_.seats[i].kind)].add(stem(i, k[i]));
        if (p_.holds_chambers())
            for (std::size_t c = 0; c < members_.size(); ++c) out[chamber_window].add(volume(c, k));
        return out;
    }
    double allowed(std::size_t window) const {
        return window == chamber_window ? p_.chamber_spread.value_or(no_limit)
                                        : p_.stem_spread.value_or(no_limit);
    }
    // A step in the units of that window.
    double grain(std::size_t window) const {
        return p_.step * (window == chamber_window ? std::max({p_.area.intake, p_.area.exhaust, 1.0}) : 1.0);
    }
    double excess(std::size_t window, const Spread& s) const {
        if (s.high < s.low) return -1;
        return (s.high - s.low - allowed(window)) / grain(window) - noise;
    }
    bool keeps_all(const Steps& k) const {
        const auto s = spreads(k);
        return excess(0, s[0]) <= 0 && excess(1, s[1]) <= 0 && excess(2, s[2]) <= 0;
    }
    // The window most overdrawn, and where to split it so that neither half allows these depths again.
    std::pair<std::size_t, double> split(const Steps& k) const {
        const auto s = spreads(k);
        std::size_t worst = 0;
        for (std::size_t w = 1; w < 3; ++w)
            if (excess(w, s[w]) > excess(worst, s[worst])) worst = w;
        return {worst, (s[worst].low + s[worst].high - allowed(worst)) / 2};
    }

    // Bounds of every seat within the box, the box tightened by them in turn, until neither moves.
    bool tighten(StepBox& box, Steps& low, Steps& high) const {
        for (int round = 0; round < most_rounds; ++round) {
            const Steps low_before = low, high_before = high;
            for (std::size_t i = 0; i < low.size(); ++i) {
                if (held(i)) {
                    const auto w = index_of(p_.seats[i].kind);
                    const double h = *p_.seats[i].stem, s = *p_.stem_spread;
                    low[i] = std::max(low[i], up((box.low[w] - h) / p_.step, window_noise));
                    high[i] = std::min(high[i], down((box.high[w] + s - h) / p_.step, window_noise));
                    box.low[w] = std::max(box.low[w], stem(i, low[i]) - s);
                    box.high[w] = std::min(box.high[w], stem(i, high[i]));
                }
                if (low[i] > high[i]) return false;
            }
            if (p_.holds_chambers() && !tighten_chambers(box, low, high)) return false;
            if (low == low_before && high == high_before) break;
        }
        return true;
    }
    bool tighten_chambers(StepBox& box, Steps& low, Steps& high) const {
        const double spread = *p_.chamber_spread;
        for (std::size_t c = 0; c < members_.size(); ++c) {
            const double least = volume(c, low), most = volume(c, high);
            box.low[chamber_window] = std::max(box.low[chamber_window], least - spread);
            box.high[chamber_window] = std::min(box.high[chamber_window], most);
            const double slack = noise * grain(chamber_window);
            if (most < box.low[chamber_window] - slack || least > box.high[chamber_window] + spread + slack)
                return false;
            for (const auto i : members_[c]) {
                const double others_most = most - bite(i) * double(high[i]);
                const double others_least = least - bite(i) * double(low[i]);
                low[i] = std::max(low[i], up((box.low[chamber_window] - others_most) / bite(i), noise));
                high[i] = std::min(high[i],
                                   down((box.high[chamber_window] + spread - others_least) / bite(i), noise));
                if (low[i] > high[i]) return false;
            }
        }
        return true;
    }

    // Least total over the box when each quantity need only lie in the window's whole reach: every cylinder
    // by itself.
    std::optional<Node> relax(StepBox box) const {
        Steps low = base_low_, high = base_high_;
        if (!tighten(box, low, high)) return std::nullopt;
        Node node{box, low, 0, 0};
        if (p_.holds_chambers())
            for (std::size_t c = 0; c < members_.size(); ++c)
                if (!fill(c, box, low, high, node.k)) return std::nullopt;
        for (const auto k : node.k) node.total += k;
        return node;
    }

    struct Group {
        std::vector<std::size_t> seats;
        std::int64_t low = 0, high = 0;  // of the sum of steps
        double bite = 0;
    };

    // Fewest steps that bring cylinder c into the chamber window, larger valves first.
    bool fill(std::size_t c, const StepBox& box, const Steps& low, const Steps& high, Steps& k) const {
        Group large, small;
        const bool intake_large = p_.area.intake >= p_.area.exhaust;
        for (const auto i : members_[c]) {
            Group& g = (p_.seats[i].kind == job::Kind::intake) == intake_large ? large : small;
            g.seats.push_back(i);
            g.low += low[i];
            g.high += high[i];
            g.bite = bite(i);
        }
        const double slack = window_noise * grain(chamber_window);
        const double need = box.low[chamber_window] - p_.chamber[c] - slack;
        const double room = box.high[chamber_window] + *p_.chamber_spread - p_.chamber[c] + slack;
        const auto counts = fewest(large, small, need, room);
        if (!counts) return false;
        spread_evenly(large, counts->first, high, k);
        spread_evenly(small, counts->second, high, k);
        return true;
    }

    // Whole numbers (large, small) of least sum with need ≤ volume ≤ room. A small valve's step is worth no
    // more than a large one's, so small + (need − volume of small)/bite of large never falls as `small`
    // grows: once that reaches the best sum so far, the search is over.
    static std::optional<std::pair<std::int64_t, std::int64_t>> fewest(const Group& large, const Group& small,
                                                                       double need, double room) {
        std::optional<std::pair<std::int64_t, std::int64_t>> best;
        const auto large_for = [&](std::int64_t s) {
            const double wanted = large.bite > 0 ? (need - small.bite * double(s)) / large.bite : 0;
            return std::max(double(large.low), wanted);
        };
        std::int64_t first = small.low;
        if (small.bite > 0)
            first = std::max(first, up((need - large.bite * double(large.high)) / small.bite, 0));
        for (std::int64_t s = first; s <= small.high; ++s) {
            if (best && up(double(s) + large_for(s), noise) >= best->first + best->second) break;
            const std::int64_t l = up(large_for(s), 0);
            const double volume = large.bite * double(l) + small.bite * double(s);
            if (l <= large.high && need <= volume && volume <= room &&
                (!best || l + s < best->first + best->second))
                best = std::pair{l, s};
            if (l == large.low && volume > room) break;
        }
        return best;
    }

    // Gives the group's sum of steps to its valves, lowest stem first.
    void spread_evenly(const Group& group, std::int64_t sum, const Steps& high, Steps& k) const {
        std::int64_t left = sum - group.low;
        const auto rank = [&](std::size_t i) { return p_.seats[i].stem ? stem(i, k[i]) : -no_limit; };
        while (left > 0) {
            std::vector<std::size_t> open;
            for (const auto i : group.seats)
                if (k[i] < high[i]) open.push_back(i);
            require(!open.empty(), "a cylinder's steps fit its valves");
            std::stable_sort(open.begin(), open.end(),
                             [&](std::size_t a, std::size_t b) { return rank(a) < rank(b); });
            const auto give = [&](std::size_t i, std::int64_t most) {
                const std::int64_t given = std::min({std::max<std::int64_t>(most, 1), left, high[i] - k[i]});
                k[i] += given;
                left -= given;
            };
            const bool level = rank(open.back()) - rank(open.front()) < p_.step * (1 + noise);
            if (level) {
                const std::int64_t each = left / static_cast<std::int64_t>(open.size());
                for (const auto i : open) give(i, each);
            } else {
                const double gap = (rank(open[1]) - rank(open[0])) / p_.step;
                give(open[0], gap < double(far) ? up(gap, 0) : far);
            }
        }
    }

    const DepthProblem& p_;
    std::vector<std::vector<std::size_t>> members_;
    Steps base_low_, base_high_;
};

}  // namespace

tl::expected<StepPlan, NoSteps> solve_depths_in_steps(const DepthProblem& problem) {
    require(problem.step > 0, "a depth plan in whole steps has a step");
    return Search(problem).run();
}

}  // namespace seatwright::shape
