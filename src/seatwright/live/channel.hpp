// One figure of a feed: which observation it is in, in which unit, and between what it must lie. What a
// person sets up while looking at what the source sends.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <tl/expected.hpp>

#include "seatwright/live/observation.hpp"
#include "seatwright/words/part.hpp"

namespace seatwright::live {

struct Channel {
    std::string what;         // "x", "y", "z", "depth", …: which field it is for
    std::string key;          // of the observation; empty: any
    std::size_t part = 0;     // which of several numbers: 0, 1, 2 of "x y z"
    std::string unit = "mm";  // "mm", "in", "um", "deg": what the source's bare numbers are in
    int sign = 1;             // -1: it counts the other way round
    // Between what it can lie (mm or deg): the table's travel, the gauge's range.
    std::optional<double> low{}, high{};
};

// In mm, or deg. Error: it is unavailable, no number, of another unit than was set up, or beyond what can be
// reached; the last says so where it would be right in the other unit.
tl::expected<double, Sentence> value_of(const Channel& channel, const Observation& seen);

}  // namespace seatwright::live
