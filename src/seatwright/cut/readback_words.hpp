// What a program says in its comments, held against what it does.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "seatwright/cut/route.hpp"

namespace seatwright::cut {

// A character that some control takes for a command, or nothing: letters, digits and . , : + - = / ' ? are
// plain.
std::string fault_of_comment(std::string_view comment);

// The valve a comment announces ("valve 3I, seat 1 of 8"); empty: none.
std::string_view valve_announced(std::string_view comment);

// `word` stands in `text`, not as part of a longer one.
bool has_word(std::string_view text, std::string_view word);

// The number that follows `word` in the text, if one does.
std::optional<double> number_after(std::string_view text, std::string_view word);

// The comments before the first step: seats held back named, trims as in the stops, the pilot for each Z0,
// the clear height as the control shows it.
std::string fault_of_header(std::string_view header, const job::Job& job, const Route& route);
// Trims said there and before Z0 is asked for are those of the stops, and that Z0 is not moved for them.
std::string fault_of_trims(std::string_view text, const job::Job& job, const Route& route);

}  // namespace seatwright::cut
