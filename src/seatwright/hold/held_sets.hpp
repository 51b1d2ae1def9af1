// Which of many sets hold a given one: for each member a row of bits, one a set.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "seatwright/hold/cover.hpp"

namespace seatwright::hold {

class HeldSets {
  public:
    explicit HeldSets(const std::vector<Members>& sets);
    bool more_than_one_holds(const Members& group) const;
    // The first that does.
    std::optional<std::size_t> one_that_holds(const Members& group) const;

  private:
    std::uint64_t word(const std::vector<std::size_t>& members, std::size_t w) const;

    std::size_t words_ = 0;
    std::vector<std::vector<std::uint64_t>> rows_;  // by member
    std::uint64_t last_ = 0;                        // bits in use of the last word
};

}  // namespace seatwright::hold
