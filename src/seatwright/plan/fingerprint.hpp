// What something was made from, as 32 bytes: the same bytes are the same things. BLAKE2b-256 (RFC 7693).
#pragma once

#include <array>

namespace seatwright::plan {

using Fingerprint = std::array<unsigned char, 32>;

}  // namespace seatwright::plan
