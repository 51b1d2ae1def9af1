// What series and positions take of each head that has values, side by side, kept while heads are added and
// changed: the last head costs itself, an earlier one all from it on.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/growing_list.hpp"

namespace seatwright::prove {

struct HeadValues;

struct HeadColumns {
    std::vector<std::size_t> heads;  // ordinals, ascending; one a row
    GrowingList<std::string> names;  // of them
    std::vector<double> means, ranges, sds;
    std::vector<std::size_t> sizes;               // how many values
    std::vector<std::size_t> breaks;              // rows whose head has another cutter than the last said
    std::map<std::size_t, std::size_t> worst_in;  // by valve: heads in which it was the worst

    // Heads from that ordinal on are others than before, or new. `all`: of every head; `wanted`: the value
    // from which the worst lies furthest, none where the largest is the worst.
    void renew(std::size_t from, const std::vector<HeadValues>& all, const std::vector<std::string>& called,
               std::optional<double> wanted);

  private:
    void append(std::size_t head, const HeadValues& values, std::optional<double> wanted);

    std::vector<std::size_t> worst_;   // valve
    std::vector<std::string> fitted_;  // the cutter said last up to there; empty = none said
};

}  // namespace seatwright::prove
