// What a figure can be: the ranges of the table of keys (Key::trade) behind the questions of the command line
// and of the workbench (working.md, "Doubts").
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "seatwright/job/quantity.hpp"
#include "seatwright/words/figure.hpp"

namespace seatwright::job {

// What a figure of this key can be; `low` and `high` in the bare unit of its dimension (lengths: mm).
struct Plausible {
    std::string_view key;   // as in the table of keys: "seat.*.width", "reading.touch[].x"
    std::string_view what;  // in a sentence: "a seat's width"
    double low = 0, high = 0;
    Dimension dimension = Dimension::length;
    std::string_view basis{};
};

// All rows, in the order of the table of keys.
std::span<const Plausible> plausible_ranges();

// The row of that key of the table of keys; null if any figure will do.
const Plausible* plausible_for(std::string_view key);

// Whether a figure (memory units) can be; the ends themselves can.
bool can_be(const Plausible& range, double value);

// A figure in memory units as somebody would type it, for a sentence: "0.35 in", "16.25 deg", "20 inHg".
Figure as_typed(double value, Dimension dimension);
// The same in words of a job in `unit`: "0.35 in", "16.25 deg", "20 inHg".
std::string figure_words(double value, Dimension dimension, LengthUnit unit);

// Of a figure written as `typed` ("383.012", "500 inHg"): the first other unit of its dimension in which it
// could be; none if there is none.
std::optional<std::string_view> unit_that_fits(const Plausible& range, std::string_view typed,
                                               LengthUnit file_unit);

}  // namespace seatwright::job
