// One-time codes by the clock: RFC 6238 (TOTP) over RFC 4226 (HOTP), HMAC-SHA-1, steps of 30 s, six digits,
// as every authenticator takes them.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

namespace seatwright::store {

inline constexpr long long totp_step_s = 30;

// The code of that step (seconds since 1970 over 30) under those bytes, `digits` 6 to 8.
std::string totp(const std::string& secret, std::uint64_t step, int digits = 6);

// The step among `now_s` and its two neighbours (a clock may be half a minute off) whose code this is, if it
// is later than `after`: a code is taken once.
std::optional<long long> totp_step_of(const std::string& secret, const std::string& code, long long now_s,
                                      long long after);

// RFC 4648 base 32 without padding, as a person types it.
std::string base32(const std::string& bytes);
std::string bytes_of_base32(const std::string& text);  // signs that are none of the 32 are passed over

}  // namespace seatwright::store
