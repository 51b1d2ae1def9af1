#include "seatwright/hold/many_directions.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/hold/fewest.hpp"
#include "seatwright/hold/minimax.hpp"
#include "seatwright/hold/slot_cover.hpp"

namespace seatwright::hold {

namespace {

constexpr long work_a_question = setup_work / 4;
// A radius this much below a known one is another radius, groups_within()'s own tolerance included.
constexpr double clearly_below = 4 * angle_tie;
constexpr int most_polishes = 50;

struct Plan {
    std::vector<Members> groups;  // each direction once, worst first
    std::vector<double> errors;
};

// First in dictionary order, errors a tie apart being the same.
bool better(const std::vector<double>& a, const std::vector<double>& b) {
    if (a.size() != b.size()) return a.size() < b.size();
    for (std::size_t k = 0; k < a.size(); ++k)
        if (std::abs(a[k] - b[k]) > angle_tie) return a[k] < b[k];
    return false;
}

class Parter {
  public:
    Parter(const std::vector<Vec3>& axes, const Reach& reach, double limit, long work)
        : axes_(axes), reach_(reach), limit_(limit), work_(work) {}

    Parting run() {
        Parting parting;
        parting.at_least = fewest();
        parting.proven = parting.at_least == plan_.groups.size();
        for (std::size_t j = 0; j < plan_.groups.size() && parting.proven; ++j) parting.proven = settle(j);
        for (const auto& group : plan_.groups) parting.groups.push_back(group.list());
        return parting;
    }

  private:
    std::vector<Vec3> axes_of(const Members& group) const {
        std::vector<Vec3> axes;
        for (const auto i : group.list()) axes.push_back(axes_[i]);
        return axes;
    }

    // Each direction to the set where its error is least, each set at its best attitude; only sets it is in
    // (whose errors then do not grow), or any.
    Plan dealt(const std::vector<Members>& sets, bool only_its_own) const {
        std::vector<Attitude> attitudes;
        attitudes.reserve(sets.size());
        for (const auto& set : sets) attitudes.push_back(best_attitude(axes_of(set), reach_).attitude);
        std::vector<Members> groups(sets.size());
        for (std::size_t i = 0; i < axes_.size(); ++i) {
            std::size_t best = 0;
            double least = 4;  // more than π
            for (std::size_t g = 0; g < sets.size(); ++g) {
                if (only_its_own && !sets[g].has(i)) continue;
                const double error = plumb_error(axes_[i], attitudes[g]);
                if (error < least - angle_tie) {
                    least = error;
                    best = g;
                }
            }
            groups[best].add(i);
        }
        std::vector<std::pair<double, Members>> order;
        for (const auto& group : groups)
            if (!group.empty()) order.emplace_back(best_attitude(axes_of(group), reach_).worst, group);
        std::stable_sort(order.begin(), order.end(),
                         [](const auto& a, const auto& b) { return a.first > b.first; });
        Plan plan;
        for (const auto& [error, group] : order) {
            plan.errors.push_back(error);
            plan.groups.push_back(group);
        }
        return plan;
    }

    // Dealt again and again while that helps.
    Plan polished(const std::vector<Members>& sets) const {
        Plan plan = dealt(sets, true);
        for (int k = 0; k < most_polishes; ++k) {
            Plan next = dealt(plan.groups, false);
            if (!better(next.errors, plan.errors)) break;
            plan = std::move(next);
        }
        return plan;
    }

    SlotCover ask(const std::vector<SetKind>& kinds) {
        long work = std::min(work_a_question, work_);
        const long given = work;
        auto answer = cover_by_kinds(axes_.size(), kinds, work);
        work_ -= given - work;
        return answer;
    }

    // Finds a plan with as few setups as the work allows; the number that is proven to be needed.
    std::size_t fewest() {
        const auto sets = groups_within(axes_, reach_, limit_);
        std::vector<Members> chosen;
        for (const auto s : greedy_cover(axes_.size(), sets)) chosen.push_back(sets[s]);
        plan_ = polished(chosen);
        std::size_t at_least = 1;
        bool all_decided = true;
        for (std::size_t k = 1; k < plan_.groups.size(); ++k) {
            const auto answer = ask({{sets, k}});
            if (answer.sets) plan_ = polished(*answer.sets);
            all_decided = all_decided && answer.decided;
            if (all_decided && !answer.sets) at_least = k + 1;
        }
        return all_decided ? plan_.groups.size() : at_least;
    }

    // Makes the error of setup j as small as can be with those before it as they are.
    bool settle(std::size_t j) {
        double low = 0;
        bool halve = false;
        while (plan_.errors[j] - clearly_below > low) {
            const double top = plan_.errors[j] - clearly_below;
            const double radius = halve ? low + (top - low) / 2 : top;
            const auto answer = ask(kinds_with(j, radius));
            if (answer.sets) {
                Plan next = polished(*answer.sets);
                if (!better(next.errors, plan_.errors)) return false;  // rounding: nothing more to be had
                plan_ = std::move(next);
                halve = true;
                if (j >= plan_.errors.size()) return true;
                continue;
            }
            if (radius == top) return answer.decided;
            low = radius;
            halve = false;
        }
        return true;
    }

    std::vector<SetKind> kinds_with(std::size_t j, double radius) {
        std::vector<SetKind> kinds;
        std::vector<double> radii;
        for (std::size_t i = 0; i < j; ++i) {
            if (!radii.empty() && radii.back() - plan_.errors[i] <= clearly_below) {
                ++kinds.back().most;
                continue;
            }
            radii.push_back(plan_.errors[i]);
            kinds.push_back({known_groups(plan_.errors[i]), 1});
        }
        kinds.push_back({groups_within(axes_, reach_, radius), plan_.groups.size() - j});
        return kinds;
    }

    const std::vector<Members>& known_groups(double radius) {
        for (const auto& [at, groups] : known_)
            if (at == radius) return groups;
        return known_.emplace_back(radius, groups_within(axes_, reach_, radius)).second;
    }

    const std::vector<Vec3>& axes_;
    const Reach& reach_;
    double limit_;
    long work_;
    Plan plan_;
    std::vector<std::pair<double, std::vector<Members>>> known_;
};

}  // namespace

Parting part_many(const std::vector<Vec3>& axes, const Reach& reach, double limit, long work) {
    return Parter(axes, reach, limit, work).run();
}

}  // namespace seatwright::hold
