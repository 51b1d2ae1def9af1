#include "seatwright/hold/fewest.hpp"

#include <algorithm>
#include <map>

#include "seatwright/base/fault.hpp"
#include "seatwright/hold/cover_bound.hpp"

namespace seatwright::hold {

namespace {

// Linear programs solved to say how many sets are needed at least.
constexpr long work_on_the_number = 200;

using Chosen = std::vector<std::size_t>;

struct Way {
    Members gain;
    std::size_t set = 0;
};

// Keeps the sets no other one contains, widest first.
std::vector<Way> widest_only(std::vector<Way> ways) {
    std::stable_sort(ways.begin(), ways.end(),
                     [](const Way& a, const Way& b) { return a.gain.count() > b.gain.count(); });
    std::vector<Way> kept;
    for (const auto& way : ways) {
        if (way.gain.empty()) continue;
        const auto holds = [&](const Way& k) { return way.gain.within(k.gain); };
        if (std::none_of(kept.begin(), kept.end(), holds)) kept.push_back(way);
    }
    return kept;
}

class FewestSearch {
  public:
    explicit FewestSearch(std::vector<Way> all) : all_(std::move(all)) {}

    // A least cover of `open` if one of at most `most` sets exists.
    std::optional<Chosen> cover(const Members& open, std::size_t most) {
        if (open.empty()) return Chosen{};
        if (most == 0 || nodes_ >= fewest_node_cap) return std::nullopt;
        const auto known = solved_.find(open);
        if (known != solved_.end()) {
            if (known->second.best)
                return known->second.best->size() <= most ? known->second.best : std::nullopt;
            if (known->second.more_than >= most) return std::nullopt;
        }
        ++nodes_;
        auto found = search(open, most);
        if (found)
            solved_[open].best = found;
        else if (!capped())
            solved_[open].more_than = std::max(solved_[open].more_than, most);
        return found;
    }
    bool capped() const { return nodes_ >= fewest_node_cap; }

  private:
    struct Solved {
        std::optional<Chosen> best;  // a least cover
        std::size_t more_than = 0;   // else: so many sets are not enough
    };

    std::optional<Chosen> search(const Members& open, std::size_t most) {
        std::vector<Way> ways;
        for (const auto& way : all_) ways.push_back({way.gain.both(open), way.set});
        ways = widest_only(std::move(ways));
        const auto holding = ways_by_member(open, ways);
        const auto members = open.list();
        for (const auto i : members)
            if (holding[i].size() == 1) {  // forced
                const Way& way = ways[holding[i].front()];
                auto rest = cover(open.without(way.gain), most - 1);
                if (rest) rest->push_back(way.set);
                return rest;
            }
        if (const auto lean = without_followers(members, open, holding); lean != open)
            return cover(lean, most);
        const auto parts = parts_of(open, ways);
        if (parts.size() > 1) return cover_parts(parts, most);
        const std::size_t least = bound(open, ways, holding);
        if (least > most) return std::nullopt;
        return branch(open, ways, holding, most, least);
    }

    std::vector<std::vector<std::size_t>> ways_by_member(const Members& open,
                                                         const std::vector<Way>& ways) const {
        std::vector<std::vector<std::size_t>> holding(128);
        for (std::size_t w = 0; w < ways.size(); ++w)
            for (const auto i : ways[w].gain.both(open).list()) holding[i].push_back(w);
        return holding;
    }

    // Members that every set of some other member holds as well: covered without asking.
    static Members without_followers(const std::vector<std::size_t>& members, const Members& open,
                                     const std::vector<std::vector<std::size_t>>& holding) {
        Members lean = open;
        for (const auto f : members)
            for (const auto e : members) {
                if (e == f || !lean.has(e) || holding[e].size() > holding[f].size()) continue;
                if (holding[e].size() == holding[f].size() && e > f) continue;  // of equals the first stays
                if (std::includes(holding[f].begin(), holding[f].end(), holding[e].begin(),
                                  holding[e].end())) {
                    Members one;
                    one.add(f);
                    lean = lean.without(one);
                    break;
                }
            }
        return lean;
    }

    // Groups of members that share no set with the rest.
    static std::vector<Members> parts_of(Members open, const std::vector<Way>& ways) {
        std::vector<Members> parts;
        while (!open.empty()) {
            Members part;
            part.add(open.list().front());
            for (bool grown = true; grown;) {  // every round but the last adds a member
                grown = false;
                for (const auto& way : ways)
                    if (!way.gain.both(part).empty() && !way.gain.within(part)) {
                        part = part.either(way.gain);
                        grown = true;
                    }
            }
            parts.push_back(part);
            open = open.without(part);
        }
        return parts;
    }

    std::optional<Chosen> cover_parts(const std::vector<Members>& parts, std::size_t most) {
        Chosen all;
        for (std::size_t p = 0; p < parts.size(); ++p) {
            const std::size_t others = parts.size() - 1 - p;  // each needs one at least
            if (all.size() + others + 1 > most) return std::nullopt;
            const auto found = cover(parts[p], most - all.size() - others);
            if (!found) return std::nullopt;
            all.insert(all.end(), found->begin(), found->end());
        }
        return all;
    }

    // Members no two of which share a set, and the count by the widest set.
    static std::size_t bound(Members open, const std::vector<Way>& ways,
                             const std::vector<std::vector<std::size_t>>& holding) {
        const auto widest = static_cast<std::size_t>(ways.front().gain.count());
        const std::size_t by_width = (static_cast<std::size_t>(open.count()) + widest - 1) / widest;
        std::vector<Members> near(128);
        for (const auto i : open.list())
            for (const auto w : holding[i]) near[i] = near[i].either(ways[w].gain);
        std::size_t apart = 0;
        while (!open.empty()) {
            std::size_t pick = 128;
            int least = 0;
            for (const auto i : open.list()) {
                const int shared = near[i].both(open).count();
                if (pick == 128 || shared < least) {
                    pick = i;
                    least = shared;
                }
            }
            ++apart;
            open = open.without(near[pick]);
        }
        return std::max(by_width, apart);
    }

    std::optional<Chosen> branch(const Members& open, const std::vector<Way>& ways,
                                 const std::vector<std::vector<std::size_t>>& holding, std::size_t most,
                                 std::size_t least) {
        std::size_t pick = 128;
        for (const auto i : open.list())
            if (pick == 128 || holding[i].size() < holding[pick].size()) pick = i;
        std::optional<Chosen> best;
        for (const auto w : holding[pick]) {  // widest first
            const std::size_t allowed = best ? best->size() - 1 : most;
            if (allowed < least) break;
            auto rest = cover(open.without(ways[w].gain), allowed - 1);
            if (!rest) continue;
            rest->push_back(ways[w].set);
            best = std::move(rest);
        }
        return best;
    }

    std::vector<Way> all_;
    std::map<Members, Solved> solved_;  // all of them: nothing is let go, as base/cache would
    long nodes_ = 0;
};

// Where the search met its cap: the number below which linear programs rule every cover out.
std::size_t needed_by_programs(std::size_t n, std::vector<Members> sets, std::size_t found) {
    const std::vector<SetKind> kinds{{std::move(sets), found}};
    CoverBound bound(n, kinds);
    long work = work_on_the_number;
    std::size_t needed = 1;
    while (needed < found && bound.impossible(Members::first(n), {needed}, work)) ++needed;
    return needed;
}

}  // namespace

std::vector<std::size_t> greedy_cover(std::size_t n, const std::vector<Members>& sets) {
    std::vector<std::size_t> chosen;
    for (Members open = Members::first(n); !open.empty();) {
        const auto widest = std::max_element(
            sets.begin(), sets.end(),
            [&](const Members& a, const Members& b) { return a.both(open).count() < b.both(open).count(); });
        require(widest != sets.end() && !widest->both(open).empty(), "every member is in some set");
        chosen.push_back(static_cast<std::size_t>(widest - sets.begin()));
        open = open.without(*widest);
    }
    return chosen;
}

FewestSets fewest_sets(std::size_t n, const std::vector<Members>& sets) {
    if (n == 0) return {};
    std::vector<Way> ways;
    for (std::size_t s = 0; s < sets.size(); ++s) ways.push_back({sets[s], s});
    ways = widest_only(std::move(ways));
    std::vector<Members> widest;
    widest.reserve(ways.size());
    for (const auto& way : ways) widest.push_back(way.gain);
    FewestSets answer;
    for (const auto w : greedy_cover(n, widest)) answer.sets.push_back(ways[w].set);
    FewestSearch search(ways);
    if (answer.sets.size() > 1)
        if (auto fewer = search.cover(Members::first(n), answer.sets.size() - 1))
            answer.sets = std::move(*fewer);
    answer.proven = !search.capped();
    answer.at_least =
        answer.proven ? answer.sets.size() : needed_by_programs(n, std::move(widest), answer.sets.size());
    return answer;
}

}  // namespace seatwright::hold
