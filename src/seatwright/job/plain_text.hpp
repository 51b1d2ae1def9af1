// Whether a file is plain text at all.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "seatwright/base/fault.hpp"

namespace seatwright::job {

// The key of a fault of the text itself, where no key of a job can be named.
inline constexpr std::string_view of_the_text = "TOML";

// Length of the UTF-8 sequence at `at`, 0 if it is not one (RFC 3629: no overlong forms, no surrogates).
std::size_t sequence_length(std::string_view text, std::size_t at);

// The first byte that is not UTF-8 or is a control other than tab, line feed, and carriage return before one;
// none if the whole text is plain.
std::optional<Fault> check_bytes(std::string_view text, const std::string& file);

}  // namespace seatwright::job
