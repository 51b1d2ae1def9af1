// fmt::format behind a text that is there. fmt::format_to would compile fmt's formatter into each source that
// calls it.
#pragma once

#include <fmt/core.h>

#include <string>
#include <utility>

namespace seatwright {

void append_formatted(std::string& text, fmt::string_view form, fmt::format_args things);

template <class... Things>
void append(std::string& text, fmt::format_string<Things...> form, Things&&... things) {
    append_formatted(text, form, fmt::make_format_args(things...));
}

}  // namespace seatwright
