// Sums over heads by their ordinals, kept while heads are added and changed: a tree (numerics/order_sums)
// whose leaves are so many heads each, so that ten thousand heads take little room.
#pragma once

#include <algorithm>
#include <vector>

#include "seatwright/base/numerics/order_sums.hpp"

namespace seatwright::prove {

template <class Sum>
class HeadSums {
  public:
    // Some of so many heads, in ascending order, are new or others than before; of(head): its own sum.
    template <class Of>
    void renew(const std::vector<std::size_t>& changed, std::size_t heads, const Of& of) {
        for (std::size_t i = 0; i < changed.size();) {
            const std::size_t leaf = changed[i] / a_leaf, end = std::min(heads, (leaf + 1) * a_leaf);
            while (i < changed.size() && changed[i] < end) ++i;
            Sum sum = sum_of(leaf * a_leaf, end, of);
            if (leaf == tree_.size())
                tree_.push_back(std::move(sum));
            else
                tree_.replace(leaf, std::move(sum));
        }
    }
    Sum total() const { return tree_.size() == 0 ? Sum() : tree_.total(); }
    // Of the heads from that one on.
    template <class Of>
    Sum from(std::size_t head, std::size_t heads, const Of& of) const {
        const std::size_t leaf = head / a_leaf;
        Sum sum = sum_of(head, std::min(heads, (leaf + 1) * a_leaf), of);
        return leaf + 1 < tree_.size() ? sum + tree_.from(leaf + 1) : sum;
    }

  private:
    static constexpr std::size_t a_leaf = 16;
    template <class Of>
    static Sum sum_of(std::size_t from, std::size_t to, const Of& of) {
        Sum sum = of(from);
        for (std::size_t head = from + 1; head < to; ++head) sum = sum + of(head);
        return sum;
    }
    numerics::OrderSums<Sum> tree_;
};

}  // namespace seatwright::prove
