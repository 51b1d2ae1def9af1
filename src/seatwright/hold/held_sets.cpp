#include "seatwright/hold/held_sets.hpp"

#include <bit>

namespace seatwright::hold {

namespace {
constexpr std::size_t most_members = 128;
}

HeldSets::HeldSets(const std::vector<Members>& sets) : words_((sets.size() + 63) / 64) {
    rows_.assign(most_members, std::vector<std::uint64_t>(words_, 0));
    for (std::size_t s = 0; s < sets.size(); ++s)
        for (const auto i : sets[s].list()) rows_[i][s / 64] |= std::uint64_t{1} << (s % 64);
    last_ = sets.size() % 64 == 0 ? ~std::uint64_t{0} : (std::uint64_t{1} << (sets.size() % 64)) - 1;
}

std::uint64_t HeldSets::word(const std::vector<std::size_t>& members, std::size_t w) const {
    std::uint64_t all = w + 1 == words_ ? last_ : ~std::uint64_t{0};
    for (const auto i : members) {
        all &= rows_[i][w];
        if (all == 0) break;
    }
    return all;
}

bool HeldSets::more_than_one_holds(const Members& group) const {
    const auto members = group.list();
    int count = 0;
    for (std::size_t w = 0; w < words_ && count < 2; ++w) count += std::popcount(word(members, w));
    return count > 1;
}

std::optional<std::size_t> HeldSets::one_that_holds(const Members& group) const {
    const auto members = group.list();
    for (std::size_t w = 0; w < words_; ++w)
        if (const auto all = word(members, w); all != 0)
            return 64 * w + static_cast<std::size_t>(std::countr_zero(all));
    return std::nullopt;
}

}  // namespace seatwright::hold
