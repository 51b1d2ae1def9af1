// Fields of what is digested, each with its length before it, so that two different rows never read alike.
#pragma once

#include <fmt/format.h>

#include <optional>
#include <string>
#include <string_view>

#include "seatwright/base/append.hpp"

namespace seatwright::store {

inline void put(std::string& out, std::string_view field) {
    append(out, "{}:", field.size());
    out += field;
}

// "-" where there is none.
inline void put(std::string& out, const std::optional<long long>& number) {
    put(out, number ? fmt::format_int(*number).str() : std::string("-"));
}

}  // namespace seatwright::store
