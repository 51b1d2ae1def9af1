#include "seatwright/cut/setup_path.hpp"

#include <algorithm>
#include <limits>

#include "seatwright/base/fault.hpp"

namespace seatwright::cut {

namespace {

constexpr double no_setup_way = std::numeric_limits<double>::infinity();
constexpr double setup_shorter_by = 1e-9;

// A seat of the setup: which group, which seat of it.
struct GroupEnd {
    std::size_t group, seat;
};

// Everything the search over groups needs to know: for a seat one stands at and a seat of another group one
// wants to finish at, the cheapest seat to start that group with.
struct GroupTable {
    std::vector<GroupEnd> places;
    std::vector<double> cost;         // [from][finish]
    std::vector<std::size_t> start;   // [from][finish], place
    std::vector<double> opening;      // [finish], group taken first
    std::vector<std::size_t> opener;  // [finish], place
};

GroupTable group_table(const std::vector<std::vector<Vec2>>& groups, const std::vector<EndPaths>& ends) {
    GroupTable table;
    std::vector<std::size_t> base;
    for (std::size_t g = 0; g < groups.size(); ++g) {
        base.push_back(table.places.size());
        for (std::size_t s = 0; s < groups[g].size(); ++s) table.places.push_back({g, s});
    }
    const std::size_t n = table.places.size();
    table.cost.assign(n * n, no_setup_way);
    table.start.assign(n * n, n);
    table.opening.assign(n, no_setup_way);
    table.opener.assign(n, n);
    for (std::size_t finish = 0; finish < n; ++finish) {
        const GroupEnd& to = table.places[finish];
        for (std::size_t a = 0; a < groups[to.group].size(); ++a) {
            const double inside = ends[to.group].length(a, to.seat);
            if (inside == no_setup_way) continue;
            if (inside < table.opening[finish] - setup_shorter_by) {
                table.opening[finish] = inside;
                table.opener[finish] = base[to.group] + a;
            }
            for (std::size_t from = 0; from < n; ++from) {
                if (table.places[from].group == to.group) continue;
                const Vec2& stand = groups[table.places[from].group][table.places[from].seat];
                const double cost = (stand - groups[to.group][a]).norm() + inside;
                if (cost >= table.cost[from * n + finish] - setup_shorter_by) continue;
                table.cost[from * n + finish] = cost;
                table.start[from * n + finish] = base[to.group] + a;
            }
        }
    }
    return table;
}

double least_between(const std::vector<Vec2>& a, const std::vector<Vec2>& b) {
    double least = no_setup_way;
    for (const Vec2& p : a)
        for (const Vec2& q : b) least = std::min(least, (p - q).norm());
    return least;
}

// Every way through the groups links them to one tree at least: minimum spanning tree over their gaps.
double least_links(const std::vector<std::vector<Vec2>>& groups) {
    std::vector<double> nearest(groups.size(), no_setup_way);
    std::vector<char> in(groups.size(), 0);
    nearest[0] = 0;
    double total = 0;
    for (std::size_t added = 0; added < groups.size(); ++added) {
        std::size_t best = groups.size();
        for (std::size_t i = 0; i < groups.size(); ++i)
            if (!in[i] && (best == groups.size() || nearest[i] < nearest[best])) best = i;
        in[best] = 1;
        total += nearest[best];
        for (std::size_t i = 0; i < groups.size(); ++i)
            if (!in[i]) nearest[i] = std::min(nearest[i], least_between(groups[best], groups[i]));
    }
    return total;
}

}  // namespace

SetupPaths::SetupPaths(std::vector<std::vector<Vec2>> groups) : groups_(std::move(groups)) {
    require(!groups_.empty(), "a setup has a group");
    lengths_.assign(count() * count(), no_setup_way);
    visits_.resize(count() * count());
    if (count() == 1)
        one_group();
    else if (count() <= exact_groups)
        by_subsets();
    else
        in_turn();
}

void SetupPaths::one_group() {
    const OpenPath path = shortest_path(groups_[0]);
    lengths_[0] = path.length;
    lower_bound_ = path.lower_bound;
    proven_ = path.length <= path.lower_bound + setup_shorter_by;
    for (const std::size_t seat : path.order) visits_[0].push_back({0, seat});
}

void SetupPaths::by_subsets() {
    std::vector<EndPaths> ends;
    double inside = 0;
    for (const auto& group : groups_) {
        ends.emplace_back(group);
        inside += ends.back().lower_bound();
        proven_ = proven_ && group.size() <= exact_points;
    }
    lower_bound_ = inside + least_links(groups_);
    const GroupTable table = group_table(groups_, ends);
    const std::size_t n = table.places.size(), all = (std::size_t{1} << count()) - 1;
    for (std::size_t first = 0; first < count(); ++first) {
        std::vector<double> cost((all + 1) * n, no_setup_way);
        std::vector<std::size_t> from((all + 1) * n, n);
        for (std::size_t p = 0; p < n; ++p)
            if (table.places[p].group == first) cost[(std::size_t{1} << first) * n + p] = table.opening[p];
        for (std::size_t set = 1; set <= all; ++set) {
            if (!(set >> first & 1)) continue;
            for (std::size_t at = 0; at < n; ++at) {
                const double so_far = cost[set * n + at];
                if (so_far == no_setup_way) continue;
                for (std::size_t next = 0; next < n; ++next) {
                    if (set >> table.places[next].group & 1) continue;
                    const std::size_t to = (set | std::size_t{1} << table.places[next].group) * n + next;
                    const double tried = so_far + table.cost[at * n + next];
                    if (tried >= cost[to] - setup_shorter_by) continue;
                    cost[to] = tried;
                    from[to] = at;
                }
            }
        }
        for (std::size_t p = 0; p < n; ++p) {
            const std::size_t last = table.places[p].group;
            if (cost[all * n + p] >= lengths_[first * count() + last] - setup_shorter_by) continue;
            lengths_[first * count() + last] = cost[all * n + p];
            // Back through the groups: for each its start and finish.
            std::vector<std::pair<std::size_t, std::size_t>> spans;
            std::size_t set = all;
            for (std::size_t at = p; at < n;) {
                const std::size_t before = from[set * n + at];
                spans.emplace_back(before < n ? table.start[before * n + at] : table.opener[at], at);
                set &= ~(std::size_t{1} << table.places[at].group);
                at = before;
            }
            auto& visits = visits_[first * count() + last];
            visits.clear();
            for (auto span = spans.rbegin(); span != spans.rend(); ++span) {
                const GroupEnd a = table.places[span->first], b = table.places[span->second];
                for (const std::size_t seat : ends[a.group].order(a.seat, b.seat))
                    visits.push_back({a.group, seat});
            }
        }
    }
}

// More groups than subsets can be tried for: always the nearest group next, each along its own best path.
void SetupPaths::in_turn() {
    proven_ = false;
    std::vector<OpenPath> own;
    double inside = 0;
    for (const auto& group : groups_) {
        own.push_back(shortest_path(group));
        inside += own.back().lower_bound;
    }
    lower_bound_ = inside + least_links(groups_);
    for (std::size_t first = 0; first < count(); ++first) {
        std::vector<char> done(count(), 0);
        std::vector<Visit> visits;
        double length = own[first].length;
        for (const std::size_t seat : own[first].order) visits.push_back({first, seat});
        done[first] = 1;
        for (std::size_t step = 1; step < count(); ++step) {
            const Vec2 here = groups_[visits.back().group][visits.back().seat];
            double nearest = no_setup_way;
            std::size_t next = 0;
            bool turned = false;
            for (std::size_t g = 0; g < count(); ++g) {
                if (done[g]) continue;
                const double front = (groups_[g][own[g].order.front()] - here).norm();
                const double back = (groups_[g][own[g].order.back()] - here).norm();
                if (std::min(front, back) >= nearest) continue;
                nearest = std::min(front, back);
                next = g;
                turned = back < front;
            }
            std::vector<std::size_t> way = own[next].order;
            if (turned) std::reverse(way.begin(), way.end());
            for (const std::size_t seat : way) visits.push_back({next, seat});
            length += nearest + own[next].length;
            done[next] = 1;
        }
        const std::size_t at = first * count() + visits.back().group;
        lengths_[at] = length;
        visits_[at] = std::move(visits);
    }
}

}  // namespace seatwright::cut
