#include "seatwright/hold/slot_cover.hpp"

#include <algorithm>
#include <numeric>
#include <set>

#include "seatwright/hold/cover_bound.hpp"
#include "seatwright/hold/held_sets.hpp"

namespace seatwright::hold {

namespace {

using Left = std::vector<std::size_t>;

// Trying every pair of sets takes about an eighth of the time a linear program takes.
constexpr long pairs_a_program = 8;

class SlotSearch {
  public:
    SlotSearch(std::size_t n, const std::vector<SetKind>& kinds, long& work)
        : n_(n), kinds_(kinds), bound_(n, kinds), work_(work), holding_(n) {
        for (std::size_t a = 0; a < kinds.size(); ++a) {
            held_.emplace_back(kinds[a].sets);
            for (std::size_t s = 0; s < kinds[a].sets.size(); ++s)
                for (const auto i : kinds[a].sets[s].list()) holding_[i].push_back({a, s, {}, 0});
        }
    }

    SlotCover run() {
        Left left;
        for (const auto& kind : kinds_) left.push_back(kind.most);
        SlotCover answer;
        if (descend(Members::first(n_), left)) answer.sets = chosen_;
        answer.decided = answer.sets || !out_of_work_;
        return answer;
    }

  private:
    struct Way {
        std::size_t kind = 0, set = 0;
        Members gain;
        double used = 0;
    };

    // The ways to cover the member with the fewest, those that another way of its kind betters left out.
    std::vector<Way> ways_of(const Members& open, const Left& left) const {
        std::size_t pick = n_;
        for (const auto i : open.list())
            if (pick == n_ || holding_[i].size() < holding_[pick].size()) pick = i;
        std::vector<Way> ways;
        for (Way way : holding_[pick]) {
            if (left[way.kind] == 0) continue;
            way.gain = kinds_[way.kind].sets[way.set].both(open);
            way.used = bound_.used(way.kind, way.set);
            ways.push_back(way);
        }
        std::stable_sort(ways.begin(), ways.end(), [](const Way& a, const Way& b) {
            return a.gain.count() != b.gain.count() ? a.gain.count() > b.gain.count() : a.used > b.used;
        });
        std::vector<Way> kept;
        for (const auto& way : ways) {
            const auto betters = [&](const Way& k) { return k.kind == way.kind && way.gain.within(k.gain); };
            if (std::none_of(kept.begin(), kept.end(), betters)) kept.push_back(way);
        }
        return kept;
    }

    bool finish_with_one(const Members& open, const Left& left) {
        for (std::size_t a = 0; a < kinds_.size(); ++a) {
            if (left[a] == 0) continue;
            if (const auto set = held_[a].one_that_holds(open)) {
                chosen_.push_back(kinds_[a].sets[*set]);
                return true;
            }
        }
        return false;
    }

    bool descend(const Members& open, Left left) {
        if (open.empty()) return true;
        const std::size_t all_left = std::accumulate(left.begin(), left.end(), std::size_t{0});
        if (all_left == 0) return false;
        if (all_left == 1) return finish_with_one(open, left);
        if (failed_.contains({open, left})) return false;
        if (all_left == 2 && ++pairs_ % pairs_a_program == 0) --work_;
        if (all_left > 2 && bound_.impossible(open, left, work_)) return false;
        if (work_ <= 0) {
            out_of_work_ = true;
            return false;
        }
        auto ways = ways_of(open, left);
        std::stable_sort(ways.begin(), ways.end(),
                         [](const Way& a, const Way& b) { return a.used > b.used + 1e-9; });
        for (const auto& way : ways) {
            --left[way.kind];
            chosen_.push_back(kinds_[way.kind].sets[way.set]);
            if (descend(open.without(way.gain), left)) return true;
            chosen_.pop_back();
            ++left[way.kind];
            if (out_of_work_) return false;
        }
        failed_.insert({open, left});
        return false;
    }

    std::size_t n_;
    const std::vector<SetKind>& kinds_;
    CoverBound bound_;
    long& work_;
    std::vector<std::vector<Way>> holding_;
    std::vector<HeldSets> held_;
    std::set<std::pair<Members, Left>> failed_;
    std::vector<Members> chosen_;
    long pairs_ = 0;
    bool out_of_work_ = false;
};

}  // namespace

SlotCover cover_by_kinds(std::size_t n, const std::vector<SetKind>& kinds, long& work) {
    return SlotSearch(n, kinds, work).run();
}

}  // namespace seatwright::hold
