// Paths over all groups of one setup: which group first, which last, and the shortest way through them all.
#pragma once

#include <vector>

#include "seatwright/cut/order.hpp"
#include "seatwright/cut/path.hpp"

namespace seatwright::cut {

class SetupPaths {
  public:
    explicit SetupPaths(std::vector<std::vector<Vec2>> groups);
    // Shortest length over all seats starting in group `first` and finishing in group `last`, each group in
    // one go; infinity when that is not possible (first = last with several groups) or not offered.
    double length(std::size_t first, std::size_t last) const { return lengths_[first * count() + last]; }
    const std::vector<Visit>& visits(std::size_t first, std::size_t last) const {
        return visits_[first * count() + last];
    }
    bool proven() const { return proven_; }
    double lower_bound() const { return lower_bound_; }

  private:
    std::size_t count() const { return groups_.size(); }
    void one_group();
    void by_subsets();
    void in_turn();

    std::vector<std::vector<Vec2>> groups_;
    std::vector<double> lengths_;
    std::vector<std::vector<Visit>> visits_;
    bool proven_ = true;
    double lower_bound_ = 0;
};

}  // namespace seatwright::cut
