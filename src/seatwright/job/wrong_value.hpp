// What is wrong with a single value by its row in the table of keys.
#pragma once

#include <string>
#include <string_view>

#include "seatwright/job/keys.hpp"
#include "seatwright/toml/document.hpp"

namespace seatwright::job {

// "a whole number", "a list": what a person would call it.
std::string_view type_name(toml::Kind kind);

// A sentence if the number (memory units) is beyond what makes sense or beyond the row's bounds; empty if
// not.
std::string out_of_bounds(double value, const Key& key, LengthUnit units);

// Labels may be numbers ("head 3"), and so may signs.
bool takes_whole_number(const Key& key);

// A sentence if a label is too long or a choice is none of those there are; empty if not.
std::string not_that_word(std::string_view word, const Key& key);

}  // namespace seatwright::job
