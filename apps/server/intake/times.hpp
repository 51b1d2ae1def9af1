// Times as browsers write them.
#pragma once

#include <optional>
#include <string>

namespace seatwright::server {

// Milliseconds since 1970 of "2026-01-31T12:34:56.789Z" (milliseconds may be absent); nothing for other
// texts.
std::optional<long long> ms_of(const std::string& text);

}  // namespace seatwright::server
