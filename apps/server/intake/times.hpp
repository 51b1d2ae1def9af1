// Times as browsers write them.
#pragma once

#include <optional>
#include <string>

namespace seatwright::server {

// Milliseconds since 1970 of "2026-01-31T12:34:56.789Z" (milliseconds may be absent); nothing for other
// texts.
std::optional<long long> ms_of(const std::string& text);

// Of what a person types, the same or "2026-01-31 12:34", "2026-01-31T12:34:56": without a Z in the time zone
// of this machine.
std::optional<long long> ms_of_typed(const std::string& text);

}  // namespace seatwright::server
