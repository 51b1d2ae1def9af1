// A proof that a cover cannot exist, by linear programming (Clp).
//
// With kinds a of sets, at most m_a of each, every weighting λ ≥ 0 of the open members gives: if a cover
// exists, Σ λ_i ≤ Σ_a m_a·max_{S in a} Σ_{i in S} λ_i. A weighting that breaks this proves there is none; it
// is checked here by itself, so the linear program need only suggest it. The best weighting is the dual of
// "cover each member once, each set used in part, as little left over as can be", solved with few sets to
// begin with, those the weighting shows to be missing added until none is.
#pragma once

#include <ClpSimplex.hpp>
#include <vector>

#include "seatwright/hold/cover.hpp"
#include "seatwright/hold/slot_cover.hpp"

namespace seatwright::hold {

class CoverBound {
  public:
    CoverBound(std::size_t n, const std::vector<SetKind>& kinds);

    // True when no cover of `open` exists with at most left[a] sets of kind a. `work` as in slot_cover.hpp.
    bool impossible(const Members& open, const std::vector<std::size_t>& left, long& work);
    // How much of each set of kind a the last program used.
    double used(std::size_t kind, std::size_t set) const { return used_[kind][set]; }

  private:
    struct Priced {
        double weight = 0;
        std::size_t set = 0;
    };
    std::vector<double> weights(const Members& open) const;
    void add(std::size_t kind, std::size_t set);
    void note_used();

    std::size_t n_;
    const std::vector<SetKind>& kinds_;
    std::vector<std::vector<std::vector<std::size_t>>> lists_;  // members of each set of each kind
    std::vector<std::vector<int>> column_;                      // of each set of each kind; −1 = not in it
    std::vector<std::vector<double>> used_;
    ClpSimplex model_;
};

}  // namespace seatwright::hold
