#include "seatwright/hold/setups.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "seatwright/base/fault.hpp"
#include "seatwright/hold/cap.hpp"
#include "seatwright/hold/cover.hpp"
#include "seatwright/hold/edge.hpp"

namespace seatwright::hold {

namespace {

// With more the list of all places takes longer than asking radius by radius.
constexpr std::size_t most_triples = 1000;

// One direction and the guides that have it.
struct Direction {
    Vec3 axis;
    std::vector<std::size_t> guides;
    BestAttitude alone;
};

std::vector<Direction> directions_of(const std::vector<Vec3>& axes, const Reach& reach) {
    std::vector<Direction> out;
    for (std::size_t i = 0; i < axes.size(); ++i) {
        const auto same = [&](const Direction& d) {
            return angle_by_chord(d.axis, axes[i]) <= same_direction;
        };
        const auto at = std::find_if(out.begin(), out.end(), same);
        if (at != out.end())
            at->guides.push_back(i);
        else
            out.push_back({axes[i], {i}, best_attitude({axes[i]}, reach)});
    }
    return out;
}

// Every group of directions that can be held together is held by one of these attitudes with no larger error
// than at its own best one: the best attitude of a group is a direction itself, the centre of a cap spanned
// by two or three, the foot of one or the crossing of two on a border arc, or a corner.
class Candidates {
  public:
    Candidates(const std::vector<Vec3>& axes, const Reach& reach, double limit)
        : axes_(axes), reach_(reach), limit_(limit + angle_tie) {
        interior();
        border();
    }
    std::vector<CoverSet> sets;
    std::vector<Attitude> attitudes;

  private:
    void offer(const Attitude& attitude, double radius) {
        if (!(radius <= limit_)) return;
        const Vec3 u = spindle_in_head(attitude);
        const double chord = 2 * std::sin((radius + angle_tie) / 2);
        Members members;
        for (std::size_t i = 0; i < axes_.size(); ++i)
            if ((axes_[i] - u).squaredNorm() <= chord * chord) members.add(i);
        if (members.empty()) return;
        const auto [at, fresh] = place_.try_emplace(members, sets.size());
        if (fresh) {
            sets.push_back({members, radius});
            attitudes.push_back(attitude);
        } else if (radius < sets[at->second].cost) {
            sets[at->second].cost = radius;
            attitudes[at->second] = attitude;
        }
    }

    void offer(const Cap& cap) {
        if (cap.radius > limit_) return;
        const Attitude attitude = attitude_for(cap.centre);
        if (within(reach_, attitude)) offer(clamped(reach_, attitude), cap.radius);
    }

    void interior() {
        const std::size_t n = axes_.size();
        std::vector<Members> near(n);
        for (std::size_t i = 0; i < n; ++i)
            for (std::size_t j = 0; j < n; ++j)
                if (j > i && angle_by_chord(axes_[i], axes_[j]) <= 2 * limit_) near[i].add(j);
        for (std::size_t i = 0; i < n; ++i) {
            offer(Cap{axes_[i], 0});
            for (const auto j : near[i].list()) {
                offer(cap_of_two(axes_[i], axes_[j]));
                for (const auto k : near[i].both(near[j]).list()) triple(axes_[i], axes_[j], axes_[k]);
            }
        }
    }

    // Three directions span a cap only if their triangle is acute; else two of them do.
    void triple(const Vec3& a, const Vec3& b, const Vec3& c) {
        if ((b - a).dot(c - a) <= 0 || (a - b).dot(c - b) <= 0 || (a - c).dot(b - c) <= 0) return;
        if (const auto cap = cap_of_three(a, b, c)) offer(*cap);
    }

    void border() {
        for (const auto& edge : edges_of(reach_)) {
            std::vector<Wave> waves;
            for (const auto& axis : axes_) waves.push_back(edge.wave(axis));
            const auto at = [&](double t, std::size_t active) {
                if (t < edge.range.low || t > edge.range.high) return;
                offer(edge.at(t), plumb_error(axes_[active], edge.at(t)));
            };
            for (std::size_t i = 0; i < waves.size(); ++i) {
                at(foot(waves[i]), i);
                for (std::size_t j = i + 1; j < waves.size(); ++j)
                    for (const double t : crossings(waves[i], waves[j])) at(t, i);
            }
        }
        for (const auto& corner : corners_of(reach_))
            for (const auto& axis : axes_) offer(corner, plumb_error(axis, corner));
    }

    const std::vector<Vec3>& axes_;
    const Reach& reach_;
    double limit_;
    std::map<Members, std::size_t> place_;
};

std::vector<Vec3> axes_of(const std::vector<Direction>& directions, const std::vector<std::size_t>& which) {
    std::vector<Vec3> axes;
    axes.reserve(which.size());
    for (const auto d : which) axes.push_back(directions[d].axis);
    return axes;
}

// Directions linked by a chain of pairs that some attitude holds together: setups never reach across.
std::vector<std::vector<std::size_t>> clusters_of(const std::vector<Direction>& directions,
                                                  const std::vector<std::size_t>& held, const Reach& reach,
                                                  double limit) {
    std::vector<std::vector<std::size_t>> clusters;
    std::vector<bool> seen(held.size(), false);
    const auto linked = [&](std::size_t a, std::size_t b) {
        const Vec3& one = directions[held[a]].axis;
        const Vec3& other = directions[held[b]].axis;
        if (angle_by_chord(one, other) > 2 * (limit + angle_tie)) return false;
        return best_attitude({one, other}, reach).worst <= limit + angle_tie;
    };
    for (std::size_t s = 0; s < held.size(); ++s) {
        if (seen[s]) continue;
        std::vector<std::size_t> cluster{s};
        seen[s] = true;
        for (std::size_t k = 0; k < cluster.size(); ++k)
            for (std::size_t t = 0; t < held.size(); ++t)
                if (!seen[t] && linked(cluster[k], t)) {
                    seen[t] = true;
                    cluster.push_back(t);
                }
        for (auto& c : cluster) c = held[c];
        std::sort(cluster.begin(), cluster.end());
        clusters.push_back(std::move(cluster));
    }
    return clusters;
}

// Splits one cluster into groups of directions (indices into `cluster`'s own list).
struct Split {
    std::vector<std::vector<std::size_t>> groups;
    std::size_t at_least = 0;  // no split has fewer
    bool proven = true;
};

// Triples of directions that might be held together: what the list of all places grows with.
std::size_t close_triples(const std::vector<Vec3>& axes, double limit) {
    std::vector<Members> near(axes.size());
    for (std::size_t i = 0; i < axes.size(); ++i)
        for (std::size_t j = i + 1; j < axes.size(); ++j)
            if (angle_by_chord(axes[i], axes[j]) <= 2 * limit) near[i].add(j);
    std::size_t triples = 0;
    for (const auto& own : near)
        for (const auto j : own.list()) triples += static_cast<std::size_t>(own.both(near[j]).count());
    return triples;
}

Split split(const std::vector<Vec3>& axes, const Reach& reach, double limit, long work) {
    Split out;
    if (best_attitude(axes, reach).worst <= limit + angle_tie) {
        out.groups.emplace_back();
        for (std::size_t i = 0; i < axes.size(); ++i) out.groups.back().push_back(i);
        out.at_least = 1;
        return out;
    }
    if (close_triples(axes, limit) > most_triples) {
        auto parting = part_many(axes, reach, limit, work);
        return {std::move(parting.groups), parting.at_least, parting.proven};
    }
    const Candidates candidates(axes, reach, limit);
    const Cover cover = least_cover(axes.size(), candidates.sets, angle_tie);
    out.at_least = cover.at_least;
    out.proven = cover.proven;
    if (!cover.proven) {
        auto parting = part_many(axes, reach, limit, work);
        if (parting.proven) return {std::move(parting.groups), parting.at_least, true};
        out.at_least = std::max(out.at_least, parting.at_least);
    }
    out.groups.resize(cover.sets.size());
    for (std::size_t i = 0; i < axes.size(); ++i) {
        std::size_t best = cover.sets.size();
        double least = 0;
        for (std::size_t g = 0; g < cover.sets.size(); ++g) {
            if (!candidates.sets[cover.sets[g]].members.has(i)) continue;
            const double error = plumb_error(axes[i], candidates.attitudes[cover.sets[g]]);
            if (best == cover.sets.size() || error < least - angle_tie) {
                best = g;
                least = error;
            }
        }
        require(best < cover.sets.size(), "the cover holds every direction");
        out.groups[best].push_back(i);
    }
    std::erase_if(out.groups, [](const auto& group) { return group.empty(); });
    return out;
}

SetupGroup group_of(const std::vector<Direction>& directions, const std::vector<std::size_t>& which,
                    const Attitude& attitude, bool reachable) {
    SetupGroup group{attitude, {}, reachable};
    for (const auto d : which)
        group.guides.insert(group.guides.end(), directions[d].guides.begin(), directions[d].guides.end());
    std::sort(group.guides.begin(), group.guides.end());
    return group;
}

}  // namespace

SetupPlan plan_setups(const std::vector<Vec3>& axes, const Reach& reach, double limit, long work) {
    SetupPlan plan;
    const auto directions = directions_of(axes, reach);
    require(directions.size() <= 128, "at most 128 directions");
    std::vector<std::size_t> held;
    for (std::size_t d = 0; d < directions.size(); ++d) {
        const auto& alone = directions[d].alone;
        if (alone.worst <= limit + angle_tie) {
            held.push_back(d);
            continue;
        }
        auto group = group_of(directions, {d}, alone.attitude, false);
        const auto same = [&](const SetupGroup& g) {
            return !g.reachable && std::abs(g.attitude.tilt - group.attitude.tilt) <= angle_tie &&
                   std::abs(g.attitude.swing - group.attitude.swing) <= angle_tie;
        };
        const auto at = std::find_if(plan.groups.begin(), plan.groups.end(), same);
        if (at == plan.groups.end()) {
            plan.groups.push_back(std::move(group));
        } else {
            at->guides.insert(at->guides.end(), group.guides.begin(), group.guides.end());
            std::sort(at->guides.begin(), at->guides.end());
        }
    }
    plan.at_least = plan.groups.size();
    for (const auto& cluster : clusters_of(directions, held, reach, limit)) {
        const auto own = axes_of(directions, cluster);
        const auto parts = split(own, reach, limit, work);
        plan.at_least += parts.at_least;
        plan.proven = plan.proven && parts.proven;
        for (const auto& part : parts.groups) {
            std::vector<std::size_t> which;
            which.reserve(part.size());
            for (const auto i : part) which.push_back(cluster[i]);
            const auto best = best_attitude(axes_of(directions, which), reach);
            plan.groups.push_back(group_of(directions, which, best.attitude, true));
        }
    }
    std::sort(plan.groups.begin(), plan.groups.end(),
              [](const SetupGroup& a, const SetupGroup& b) { return a.guides.front() < b.guides.front(); });
    return plan;
}

}  // namespace seatwright::hold
