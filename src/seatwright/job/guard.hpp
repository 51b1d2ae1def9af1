// What the text of a file must satisfy before the TOML parser may see it.
#pragma once

#include <string>
#include <string_view>

#include "seatwright/base/fault.hpp"

namespace seatwright::job {

// Faults of the bare text: too large, not UTF-8, control bytes, anything outside TOML 1.0's grammar, and of
// that grammar what no job needs and the parser handles badly (dates, octal and binary numbers, brackets
// nested more than 12 deep, keys of more than 12 parts). The parser takes much for granted and its behaviour
// is undefined on some wrong input, so it only ever sees text that has passed here; what is left to it is
// keys given twice and numbers out of range. Linear in the text.
Faults guard_text(std::string_view text, const std::string& file);

}  // namespace seatwright::job
