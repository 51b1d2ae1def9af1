// What a group of writes tells other servers on the same database server: numbers alone.
#pragma once

#include <optional>
#include <string>

namespace seatwright::store {

// The text of a notification, and back; the last two are the first and last line of the Ledger.
struct Notice {
    long long shop = 0, sender = 0, first = 0, last = 0;
};
inline constexpr const char* notice_channel = "seatwright";
std::string to_text(const Notice& notice);
std::optional<Notice> notice_of(const std::string& text);

}  // namespace seatwright::store
