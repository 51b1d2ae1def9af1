// Sums over things in an order, kept as a fixed binary tree over their places.
//
// What is added to what follows from the number of things alone: a sum has the same bits whether it was made
// at once, grew by one, or had some of its things replaced or taken off again. One more costs O(log n).
#pragma once

#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include "seatwright/base/fault.hpp"

namespace seatwright::numerics {

// `Sum` can be copied and added (a + b, a the earlier).
template <class Sum>
class OrderSums {
  public:
    std::size_t size() const { return levels_.empty() ? 0 : levels_.front().size(); }

    void push_back(Sum one) {
        for (std::size_t level = 0;; ++level) {
            if (level == levels_.size()) levels_.emplace_back();
            auto& nodes = levels_[level];
            nodes.push_back(std::move(one));
            if (nodes.size() % 2 != 0) return;
            one = nodes[nodes.size() - 2] + nodes.back();
        }
    }

    void pop_back() {
        require(size() > 0, "there is one to take off");
        for (std::size_t level = 0; level < levels_.size(); ++level) {
            auto& nodes = levels_[level];
            const bool was_half_of_one_above = nodes.size() % 2 == 0;
            nodes.pop_back();
            if (!was_half_of_one_above) break;
        }
        while (!levels_.empty() && levels_.back().empty()) levels_.pop_back();
    }

    void replace(std::size_t place, Sum one) {
        require(place < size(), "there is one to replace");
        levels_.front()[place] = std::move(one);
        for (std::size_t level = 1; level < levels_.size(); ++level) {
            place /= 2;
            if (place >= levels_[level].size()) return;
            const auto& below = levels_[level - 1];
            levels_[level][place] = below[2 * place] + below[2 * place + 1];
        }
    }

    const Sum& operator[](std::size_t place) const { return levels_.front()[place]; }

    // Of all. There must be one.
    Sum total() const {
        require(size() > 0, "a sum is of something");
        Sum all = levels_.back().front();
        for (std::size_t level = levels_.size() - 1; level-- > 0;)
            if (levels_[level].size() % 2 != 0) all = all + levels_[level].back();
        return all;
    }

    // Of those from `place` on. There must be one.
    Sum from(std::size_t place) const {
        require(place < size(), "a sum is of something");
        std::optional<Sum> all;
        for (std::size_t level = 0; level < levels_.size();) {
            const std::size_t at = place >> level;
            // As high as the nodes that begin here are whole.
            if (at % 2 == 0 && level + 1 < levels_.size() && at / 2 < levels_[level + 1].size() &&
                (at / 2) << (level + 1) == place) {
                ++level;
                continue;
            }
            all = all ? *all + levels_[level][at] : levels_[level][at];
            place += std::size_t{1} << level;
            if (place >= size()) break;
            level = 0;
        }
        return *all;
    }

  private:
    // levels_[k][i] is the sum of the 2^k things from the place i·2^k on; only whole ones are kept.
    std::vector<std::vector<Sum>> levels_;
};

}  // namespace seatwright::numerics
