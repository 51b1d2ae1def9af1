// What one source said once, as it came. Nothing is converted here: what unit a number is in is known to the
// channel it belongs to (channel.hpp).
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace seatwright::live {

// Milliseconds since 1970-01-01 UTC.
using Ms = std::int64_t;

struct Observation {
    std::string key;              // what it is of: a data item's id, an adapter's key; empty: of the gauge
    std::string raw;              // the text as it came, at most 200 bytes of it
    std::vector<double> numbers;  // of a text that is numbers and nothing else; finite
    std::string unit;          // a word of the text itself, in small letters: "mm", "in", "deg"; empty: none
    bool unavailable = false;  // the source says it knows no value: never 0
    std::optional<Ms> stated;  // when, by the source's own clock
    std::optional<std::uint64_t> sequence;
    bool standing = false;  // the value that stood when it was asked for, however old; not news
};

inline constexpr std::size_t longest_raw = 200;

}  // namespace seatwright::live
