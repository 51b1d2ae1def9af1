#include "seatwright/base/append.hpp"

#include <fmt/format.h>

#include <iterator>

namespace seatwright {

void append_formatted(std::string& text, fmt::string_view form, fmt::format_args things) {
    fmt::vformat_to(std::back_inserter(text), form, things);
}

}  // namespace seatwright
