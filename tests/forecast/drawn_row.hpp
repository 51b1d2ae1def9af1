// All that is told of a drawing, as one row of whole numbers.
#pragma once

#include <cstdint>
#include <vector>

#include "seatwright/forecast/draw.hpp"

namespace seatwright::forecast::test {

inline std::vector<std::uint64_t> everything_of(const Drawn& drawn) {
    std::vector<std::uint64_t> out{drawn.heads,
                                   drawn.good,
                                   drawn.pass,
                                   drawn.fail,
                                   drawn.consumer,
                                   drawn.producer_fail,
                                   drawn.producer_undecided};
    const auto add = [&](const std::vector<std::uint64_t>& of) {
        out.insert(out.end(), of.begin(), of.end());
    };
    add(drawn.by_head);
    add(drawn.good_by_head);
    for (const DrawnFigure& figure : drawn.figures) {
        add(figure.bars);
        add({figure.n, figure.within, static_cast<std::uint64_t>(figure.sum),
             static_cast<std::uint64_t>(figure.squares)});
    }
    return out;
}

}  // namespace seatwright::forecast::test
