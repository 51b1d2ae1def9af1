#include "seatwright/cut/order.hpp"

#include <algorithm>
#include <bit>
#include <limits>
#include <set>

#include "seatwright/base/fault.hpp"
#include "seatwright/cut/setup_path.hpp"

namespace seatwright::cut {

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();
// Lengths closer than this are the same, and the earlier setup order wins.
constexpr double least_gain = 1e-9;

struct Cost {
    int changes = std::numeric_limits<int>::max();
    double length = infinite;
    bool better_than(const Cost& other) const {
        return changes != other.changes ? changes < other.changes : length < other.length - least_gain;
    }
};

// One setup with its groups, numbers into the caller's list.
struct GroupStand {
    std::vector<std::size_t> groups;
    SetupPaths paths;
};

std::vector<GroupStand> stands_of(const std::vector<Group>& groups) {
    std::vector<std::size_t> setups;
    for (const Group& group : groups)
        if (std::find(setups.begin(), setups.end(), group.setup) == setups.end())
            setups.push_back(group.setup);
    std::vector<GroupStand> stands;
    for (const std::size_t setup : setups) {
        std::vector<std::size_t> members;
        std::vector<std::vector<Vec2>> seats;
        for (std::size_t g = 0; g < groups.size(); ++g)
            if (groups[g].setup == setup) {
                members.push_back(g);
                seats.push_back(groups[g].seats);
            }
        stands.push_back({std::move(members), SetupPaths(std::move(seats))});
    }
    return stands;
}

// How one stand is passed: first and last group by place in the stand.
struct Pass {
    std::size_t stand = 0, first = 0, last = 0;
};

int link_changes(const std::vector<Group>& groups, const std::vector<GroupStand>& stands, const Pass& a,
                 const Pass& b) {
    return groups[stands[a.stand].groups[a.last]].tool != groups[stands[b.stand].groups[b.first]].tool ? 1
                                                                                                       : 0;
}

std::vector<Pass> passes_of(const std::vector<GroupStand>& stands, std::size_t stand) {
    std::vector<Pass> passes;
    const std::size_t m = stands[stand].groups.size();
    for (std::size_t first = 0; first < m; ++first)
        for (std::size_t last = 0; last < m; ++last)
            if (stands[stand].paths.length(first, last) < infinite) passes.push_back({stand, first, last});
    return passes;
}

// Dynamic programming over sets of stands done and the pass made last.
std::vector<Pass> chain_exactly(const std::vector<Group>& groups, const std::vector<GroupStand>& stands) {
    std::vector<Pass> passes;
    for (std::size_t s = 0; s < stands.size(); ++s)
        for (const Pass& pass : passes_of(stands, s)) passes.push_back(pass);
    const std::size_t n = passes.size(), all = (std::size_t{1} << stands.size()) - 1;
    const auto own = [&](const Pass& p) { return stands[p.stand].paths.length(p.first, p.last); };
    std::vector<Cost> cost((all + 1) * n);
    std::vector<std::size_t> from((all + 1) * n, n);
    for (std::size_t p = 0; p < n; ++p)
        cost[(std::size_t{1} << passes[p].stand) * n + p] = {0, own(passes[p])};
    for (std::size_t set = 1; set <= all; ++set)
        for (std::size_t last = 0; last < n; ++last) {
            const Cost so_far = cost[set * n + last];
            if (so_far.length == infinite) continue;
            for (std::size_t next = 0; next < n; ++next) {
                if (set >> passes[next].stand & 1) continue;
                const Cost tried{so_far.changes + link_changes(groups, stands, passes[last], passes[next]),
                                 so_far.length + own(passes[next])};
                const std::size_t at = (set | std::size_t{1} << passes[next].stand) * n + next;
                if (!tried.better_than(cost[at])) continue;
                cost[at] = tried;
                from[at] = last;
            }
        }
    std::size_t best = 0;
    for (std::size_t p = 1; p < n; ++p)
        if (cost[all * n + p].better_than(cost[all * n + best])) best = p;
    std::vector<Pass> chain;
    for (std::size_t set = all, at = best; at < n;) {
        chain.push_back(passes[at]);
        const std::size_t before = from[set * n + at];
        set &= ~(std::size_t{1} << passes[at].stand);
        at = before;
    }
    std::reverse(chain.begin(), chain.end());
    return chain;
}

// More setups than subsets can be tried for: always the next pass that costs least.
std::vector<Pass> chain_greedily(const std::vector<Group>& groups, const std::vector<GroupStand>& stands) {
    std::vector<Pass> chain;
    std::vector<char> done(stands.size(), 0);
    for (std::size_t step = 0; step < stands.size(); ++step) {
        Cost best;
        Pass chosen;
        for (std::size_t s = 0; s < stands.size(); ++s) {
            if (done[s]) continue;
            for (const Pass& pass : passes_of(stands, s)) {
                const Cost tried{chain.empty() ? 0 : link_changes(groups, stands, chain.back(), pass),
                                 stands[s].paths.length(pass.first, pass.last)};
                if (!tried.better_than(best)) continue;
                best = tried;
                chosen = pass;
            }
        }
        done[chosen.stand] = 1;
        chain.push_back(chosen);
    }
    return chain;
}

int fewest_changes(const std::vector<Group>& groups, const std::vector<GroupStand>& stands) {
    // Each cutter must go in once, and each setup needs each of its cutters.
    std::set<std::size_t> tools;
    int inside = 0;
    for (const Group& group : groups) tools.insert(group.tool);
    for (const GroupStand& stand : stands) inside += static_cast<int>(stand.groups.size()) - 1;
    return std::max(static_cast<int>(tools.size()) - 1, inside);
}

}  // namespace

Order best_order(const std::vector<Group>& groups) {
    Order order;
    if (groups.empty()) return order;
    const std::vector<GroupStand> stands = stands_of(groups);
    const bool exact = stands.size() <= exact_groups;
    const std::vector<Pass> chain = exact ? chain_exactly(groups, stands) : chain_greedily(groups, stands);
    require(chain.size() == stands.size(), "every setup is passed once");
    for (std::size_t i = 0; i < chain.size(); ++i) {
        const GroupStand& stand = stands[chain[i].stand];
        if (i > 0) order.changes += link_changes(groups, stands, chain[i - 1], chain[i]);
        order.changes += static_cast<int>(stand.groups.size()) - 1;
        order.length += stand.paths.length(chain[i].first, chain[i].last);
        order.length_bound += stand.paths.proven() && exact
                                  ? stand.paths.length(chain[i].first, chain[i].last)
                                  : stand.paths.lower_bound();
        for (const Visit& visit : stand.paths.visits(chain[i].first, chain[i].last))
            order.visits.push_back({stand.groups[visit.group], visit.seat});
    }
    order.changes_bound = exact ? order.changes : fewest_changes(groups, stands);
    return order;
}

}  // namespace seatwright::cut
