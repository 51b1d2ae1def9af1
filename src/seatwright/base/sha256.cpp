#include "seatwright/base/sha256.hpp"

#include <fmt/format.h>
#include <sodium.h>

namespace seatwright {

std::array<unsigned char, 32> sha256_bytes(std::string_view bytes) {
    std::array<unsigned char, 32> hash{};
    static_assert(crypto_hash_sha256_BYTES == 32);
    crypto_hash_sha256(hash.data(), reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
    return hash;
}

std::string sha256(std::string_view bytes) {
    std::string out;
    for (const unsigned char byte : sha256_bytes(bytes)) out += fmt::format("{:02x}", byte);
    return out;
}

}  // namespace seatwright
