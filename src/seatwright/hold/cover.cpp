#include "seatwright/hold/cover.hpp"

#include <algorithm>
#include <optional>

#include "seatwright/hold/fewest.hpp"

namespace seatwright::hold {

namespace {

// A search for a cover whose costs, sorted from the largest down, fit under `slots` one by one.
class Search {
  public:
    Search(std::size_t n, const std::vector<CoverSet>& sets, std::vector<double> slots, double tie, long cap)
        : n_(n), sets_(sets), slots_(std::move(slots)), tie_(tie), cap_(cap), holding_(n), reach_(n) {
        for (std::size_t s = 0; s < sets_.size(); ++s) {
            if (sets_[s].cost > slots_.front() + tie_) continue;
            for (const auto i : sets_[s].members.list()) {
                holding_[i].push_back(s);
                reach_[i] = reach_[i].either(sets_[s].members);
            }
            widest_ = std::max(widest_, sets_[s].members.count());
        }
    }

    std::optional<std::vector<std::size_t>> run() {
        std::vector<bool> taken(slots_.size(), false);
        if (descend(Members::first(n_), taken, slots_.size())) return chosen_;
        return std::nullopt;
    }
    bool capped() const { return nodes_ >= cap_; }
    long nodes() const { return nodes_; }

  private:
    // No two of these can share a set, so at least so many sets are needed.
    bool needs_more_than(Members open, std::size_t left) const {
        if (static_cast<std::size_t>(open.count()) > left * static_cast<std::size_t>(widest_)) return true;
        std::size_t apart = 0;
        while (!open.empty()) {
            std::size_t least = n_;
            int least_shared = 0;
            for (const auto i : open.list()) {
                const int shared = reach_[i].both(open).count();
                if (least == n_ || shared < least_shared) {
                    least = i;
                    least_shared = shared;
                }
            }
            if (++apart > left) return true;
            if (reach_[least].empty()) return true;  // no set holds it any more
            open = open.without(reach_[least]);
        }
        return false;
    }

    // The tightest free slot a cost fits; slots are sorted from the largest down.
    std::optional<std::size_t> slot_for(double cost, const std::vector<bool>& taken) const {
        for (std::size_t k = slots_.size(); k-- > 0;)
            if (!taken[k] && cost <= slots_[k] + tie_) return k;
        return std::nullopt;
    }

    struct Branch {
        std::size_t set = 0, slot = 0;
        Members gain;
    };

    // The ways to cover member i, best first, leaving out those another way covers as well at no wider slot.
    std::vector<Branch> branches_for(std::size_t i, const Members& open,
                                     const std::vector<bool>& taken) const {
        std::vector<Branch> ways;
        for (const auto s : holding_[i])
            if (const auto slot = slot_for(sets_[s].cost, taken))
                ways.push_back({s, *slot, sets_[s].members.both(open)});
        std::stable_sort(ways.begin(), ways.end(), [](const Branch& a, const Branch& b) {
            const int wide_a = a.gain.count(), wide_b = b.gain.count();
            return wide_a != wide_b ? wide_a > wide_b : a.slot > b.slot;
        });
        std::vector<Branch> kept;
        for (const auto& way : ways) {
            const auto beaten = [&](const Branch& k) {
                return k.slot >= way.slot && way.gain.within(k.gain);
            };
            if (std::none_of(kept.begin(), kept.end(), beaten)) kept.push_back(way);
        }
        return kept;
    }

    bool descend(const Members& open, std::vector<bool>& taken, std::size_t left) {
        if (open.empty()) return true;
        if (left == 0 || ++nodes_ >= cap_) return false;
        if (needs_more_than(open, left)) return false;
        // Branch on the member with the fewest sets: all of them must be tried anyway.
        std::size_t pick = n_;
        for (const auto i : open.list())
            if (pick == n_ || holding_[i].size() < holding_[pick].size()) pick = i;
        for (const auto& way : branches_for(pick, open, taken)) {
            taken[way.slot] = true;
            chosen_.push_back(way.set);
            if (descend(open.without(way.gain), taken, left - 1)) return true;
            chosen_.pop_back();
            taken[way.slot] = false;
        }
        return false;
    }

    std::size_t n_;
    const std::vector<CoverSet>& sets_;
    std::vector<double> slots_;
    double tie_;
    long cap_;
    std::vector<std::vector<std::size_t>> holding_;  // sets that hold each member
    std::vector<Members> reach_;                     // members that share some set with it
    std::vector<std::size_t> chosen_;
    int widest_ = 0;
    long nodes_ = 0;
};

// Drops every set that another contains at no greater cost.
std::vector<std::size_t> undominated(const std::vector<CoverSet>& sets) {
    std::vector<std::size_t> order(sets.size());
    for (std::size_t s = 0; s < order.size(); ++s) order[s] = s;
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        if (sets[a].cost != sets[b].cost) return sets[a].cost < sets[b].cost;
        return sets[a].members.count() > sets[b].members.count();
    });
    std::vector<std::size_t> kept;
    for (const auto s : order) {
        const auto holds = [&](std::size_t k) { return sets[s].members.within(sets[k].members); };
        if (std::none_of(kept.begin(), kept.end(), holds)) kept.push_back(s);
    }
    return kept;
}

struct Refinement {
    std::size_t n;
    const std::vector<CoverSet>& sets;
    double tie;
    long budget = cover_node_cap;
    bool proven = true;

    std::optional<std::vector<std::size_t>> find(const std::vector<double>& slots) {
        Search search(n, sets, slots, tie, std::max(budget, 1L));
        auto found = search.run();
        budget -= search.nodes();
        if (!found && search.capped()) proven = false;
        return found;
    }

    std::vector<double> costs_of(const std::vector<std::size_t>& chosen) const {
        std::vector<double> costs;
        costs.reserve(chosen.size());
        for (const auto s : chosen) costs.push_back(sets[s].cost);
        std::sort(costs.rbegin(), costs.rend());
        return costs;
    }

    // With the costs before place j settled, makes the j-th as small as it can be. `levels`: every cost that
    // occurs, ascending.
    void settle(std::size_t j, std::vector<std::size_t>& best, const std::vector<double>& levels) {
        std::size_t known_too_low = 0;  // levels below this index cannot be met
        bool halve = false;
        while (proven) {
            auto slots = costs_of(best);
            // The highest level that would be an improvement.
            const auto end = std::lower_bound(levels.begin(), levels.end(), slots[j] - tie);
            const auto candidates = static_cast<std::size_t>(end - levels.begin());
            if (candidates <= known_too_low) return;
            const std::size_t top = candidates - 1;
            const std::size_t at = halve ? known_too_low + (top - known_too_low) / 2 : top;
            std::fill(slots.begin() + static_cast<std::ptrdiff_t>(j), slots.end(), levels[at]);
            if (auto better = find(slots)) {
                best = *better;
                halve = true;
            } else {
                if (at == top) return;
                known_too_low = at + 1;
                halve = false;
            }
        }
    }
};

}  // namespace

Members Members::first(std::size_t n) {
    Members all;
    for (std::size_t i = 0; i < n; ++i) all.add(i);
    return all;
}

std::vector<std::size_t> Members::list() const {
    std::vector<std::size_t> out;
    for (std::size_t w = 0; w < words.size(); ++w)
        for (std::uint64_t rest = words[w]; rest != 0; rest &= rest - 1)
            out.push_back(64 * w + static_cast<std::size_t>(std::countr_zero(rest)));
    return out;
}

Cover least_cover(std::size_t n, const std::vector<CoverSet>& sets, double tie) {
    if (n == 0) return {};
    const auto kept = undominated(sets);
    std::vector<CoverSet> lean;
    lean.reserve(kept.size());
    for (const auto s : kept) lean.push_back(sets[s]);
    Refinement work{n, lean, tie};
    std::vector<Members> members;
    members.reserve(lean.size());
    for (const auto& set : lean) members.push_back(set.members);
    const FewestSets fewest = fewest_sets(n, members);
    auto best = fewest.sets;
    std::vector<double> levels;
    levels.reserve(lean.size());
    for (const auto& set : lean) levels.push_back(set.cost);
    std::sort(levels.begin(), levels.end());
    for (std::size_t j = 0; j < best.size() && work.proven; ++j) work.settle(j, best, levels);
    std::stable_sort(best.begin(), best.end(),
                     [&](std::size_t a, std::size_t b) { return lean[a].cost > lean[b].cost; });
    Cover cover{{}, fewest.at_least, fewest.proven && work.proven};
    for (const auto s : best) cover.sets.push_back(kept[s]);
    return cover;
}

}  // namespace seatwright::hold
