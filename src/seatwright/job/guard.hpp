// What the text of a file must satisfy before the TOML parser may see it.
#pragma once

#include <string>
#include <string_view>

#include "seatwright/base/fault.hpp"

namespace seatwright::job {

// Faults of the bare text: too large, not UTF-8, characters outside quotes that TOML does not allow there
// (the parser's behaviour on some of them is undefined), brackets or dotted keys nested deeper than any job
// needs (the parser recurses). Linear in the text.
Faults guard_text(std::string_view text, const std::string& file);

}  // namespace seatwright::job
