// Who said a thing and when, in brackets behind it: "head.valve.1I.z = 0.35 in (A. Miller, 2026-01-31)".
#pragma once

#include <string>
#include <string_view>
#include <utility>

namespace seatwright::job {

// The words without brackets at their end, and what stands in these; no brackets: all of it and nothing.
std::pair<std::string, std::string> words_and_who(std::string_view text);

// The words with who and when behind them, in place of what stood there. Brackets in a name are written as
// "[" and "]", so that it is read back whole.
std::string with_who(std::string_view text, std::string_view name, std::string_view date);

}  // namespace seatwright::job
