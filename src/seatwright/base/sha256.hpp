// SHA-256 (FIPS 180-4).
#pragma once

#include <array>
#include <string>
#include <string_view>

namespace seatwright {

std::array<unsigned char, 32> sha256_bytes(std::string_view bytes);

// The same as 64 hexadecimal digits: what `sha256sum` prints of a file.
std::string sha256(std::string_view bytes);

}  // namespace seatwright
