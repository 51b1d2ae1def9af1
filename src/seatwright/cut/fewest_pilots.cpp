#include "seatwright/cut/fewest_pilots.hpp"
#include "seatwright/words/english_cut.hpp"

#include <algorithm>
#include <numeric>
#include <tuple>

namespace seatwright::cut {
namespace {

using Set = std::vector<std::size_t>;  // pilots of a cover

// serves[p][g]
struct CoverTable {
    std::vector<std::vector<bool>> serves;
    std::size_t guides = 0;
};

class Cover {
  public:
    Cover(const CoverTable& table, const std::vector<job::Pilot>& pilots) : table_(table), pilots_(pilots) {
        for (std::size_t p = 0; p < pilots.size(); ++p)
            if (count(table.serves[p]) > 0) useful_.push_back(p);
        std::stable_sort(useful_.begin(), useful_.end(), [&](std::size_t a, std::size_t b) {
            return pilots[a].diameter > pilots[b].diameter;
        });
    }

    // The best cover with the fewest pilots; `proven` false when the cap was met.
    Set find(bool& proven) {
        const Set greedy = by_most();
        best_ = greedy;
        best_total_ = total(greedy);
        for (std::size_t size = 1; size <= greedy.size() && looked_ <= most_covers; ++size) {
            bool found = false;
            Set chosen;
            std::vector<bool> left(table_.guides, true);
            for (std::size_t g = 0; g < table_.guides; ++g) left[g] = served_by_any(g);
            search(size, 0, chosen, left, found);
            if (found) break;
        }
        proven = looked_ <= most_covers;
        return best_;
    }

  private:
    static std::size_t count(const std::vector<bool>& row) {
        return static_cast<std::size_t>(std::count(row.begin(), row.end(), true));
    }
    bool served_by_any(std::size_t g) const {
        return std::any_of(useful_.begin(), useful_.end(),
                           [&](std::size_t p) { return table_.serves[p][g]; });
    }

    // Total of diameters with every guide at its largest of the set.
    double total(const Set& set) const {
        double sum = 0;
        for (std::size_t g = 0; g < table_.guides; ++g) {
            double most = 0;
            for (const std::size_t p : set)
                if (table_.serves[p][g]) most = std::max(most, pilots_[p].diameter);
            sum += most;
        }
        return sum;
    }

    Set by_most() const {
        Set set;
        std::vector<bool> left(table_.guides, true);
        for (std::size_t g = 0; g < table_.guides; ++g) left[g] = served_by_any(g);
        while (count(left) > 0) {
            std::size_t best = useful_.front(), best_new = 0;
            for (const std::size_t p : useful_) {
                std::size_t fresh = 0;
                for (std::size_t g = 0; g < table_.guides; ++g)
                    fresh += left[g] && table_.serves[p][g] ? 1U : 0U;
                if (fresh > best_new) std::tie(best, best_new) = std::pair(p, fresh);
            }
            set.push_back(best);
            for (std::size_t g = 0; g < table_.guides; ++g)
                if (table_.serves[best][g]) left[g] = false;
        }
        return set;
    }

    // Sets of `more` further pilots from useful_[from] on; the first guide left must be served by one of
    // them.
    void search(std::size_t more, std::size_t from, Set& chosen, const std::vector<bool>& left, bool& found) {
        if (++looked_ > most_covers) return;
        if (count(left) == 0) {
            const double sum = total(chosen);
            if (!found || sum > best_total_) {
                best_ = chosen;
                best_total_ = sum;
            }
            found = true;
            return;
        }
        if (more == 0) return;
        for (std::size_t i = from; i < useful_.size(); ++i) {
            const auto& row = table_.serves[useful_[i]];
            std::vector<bool> rest = left;
            for (std::size_t g = 0; g < table_.guides; ++g)
                if (row[g]) rest[g] = false;
            if (rest == left) continue;
            chosen.push_back(useful_[i]);
            search(more - 1, i + 1, chosen, rest, found);
            chosen.pop_back();
        }
    }

    const CoverTable& table_;
    const std::vector<job::Pilot>& pilots_;
    Set useful_;  // pilots that serve some guide, largest first
    std::size_t looked_ = 0;
    Set best_;
    double best_total_ = 0;
};

// Of two reasons the one to tell: of a pilot that at least fits the bore, then of the one that misses its
// windows by less, then of the larger pilot.
bool nearer(const Misfit& a, double a_size, const Misfit& b, double b_size) {
    if (a.fits_bore != b.fits_bore) return a.fits_bore;
    if (a.fits_bore && a.lacks != b.lacks) return a.lacks < b.lacks;
    return a_size > b_size;
}

bool wedges(const job::Pilot& pilot) {
    return pilot.style == job::PilotStyle::tapered;
}

// For each guide what is missing of the largest tapered pilot that fits it, if a figure alone is.
using Lacking = std::vector<std::optional<std::pair<double, Misfit>>>;

// Such a guide is not led by a pilot that slides instead.
void wait_for_figures(CoverTable& table, const std::vector<job::Pilot>& pilots, const Lacking& lacking,
                      std::vector<GuidePilot>& told) {
    for (std::size_t g = 0; g < table.guides; ++g) {
        bool wedged = !lacking[g];
        for (std::size_t p = 0; p < pilots.size(); ++p)
            wedged = wedged || (table.serves[p][g] && wedges(pilots[p]));
        if (wedged) continue;
        for (auto& row : table.serves) row[g] = false;
        told[g].misfit = lacking[g]->second;
    }
}

}  // namespace

PilotsOfProgram fewest_pilots(const job::CutRules& rules, const std::vector<job::Pilot>& pilots,
                              const job::Cutter& cutter, const std::vector<GuideAtStop>& guides) {
    PilotsOfProgram out;
    out.guides.resize(guides.size());
    CoverTable table{.serves = {}, .guides = guides.size()};
    std::vector<std::vector<std::optional<PilotStand>>> stands(pilots.size());
    std::vector<double> nearest(guides.size(), 0);
    Lacking lacking(guides.size());
    for (std::size_t p = 0; p < pilots.size(); ++p) {
        stands[p].resize(guides.size());
        table.serves.emplace_back(guides.size(), false);
        for (std::size_t g = 0; g < guides.size(); ++g) {
            const Stand stand = stand_of(use_of(rules, pilots[p]), pilots[p], cutter, guides[g]);
            auto& told = out.guides[g].misfit;
            if (stand) {
                stands[p][g] = *stand;
                table.serves[p][g] = true;
            } else if (!told || nearer(stand.error(), pilots[p].diameter, *told, nearest[g])) {
                told = stand.error();
                nearest[g] = pilots[p].diameter;
            }
            if (!stand && wedges(pilots[p]) && stand.error().code == HeldCode::missing &&
                stand.error().fits_bore && (!lacking[g] || lacking[g]->first < pilots[p].diameter))
                lacking[g].emplace(pilots[p].diameter, stand.error());
        }
    }
    wait_for_figures(table, pilots, lacking, out.guides);
    Set set = Cover(table, pilots).find(out.proven);
    std::stable_sort(set.begin(), set.end(),
                     [&](std::size_t a, std::size_t b) { return pilots[a].diameter > pilots[b].diameter; });
    std::vector<bool> used(pilots.size(), false);
    for (std::size_t g = 0; g < guides.size(); ++g) {
        for (const std::size_t p : set) {
            if (!table.serves[p][g]) continue;
            out.guides[g] = {.pilot = p, .stand = stands[p][g], .misfit = std::nullopt};
            used[p] = true;
            break;
        }
        if (!out.guides[g].pilot && !out.guides[g].misfit)
            out.guides[g].misfit =
                Misfit{HeldCode::no_pilot, sentence<"no-pilot-on-shelf">(), sentence<"a-pilot">()};
    }
    out.sizes = static_cast<std::size_t>(std::count(used.begin(), used.end(), true));
    return out;
}

}  // namespace seatwright::cut
