#include "seatwright/base/sha256.hpp"

#include <sodium.h>

namespace seatwright {

std::array<unsigned char, 32> sha256_bytes(std::string_view bytes) {
    std::array<unsigned char, 32> hash{};
    static_assert(crypto_hash_sha256_BYTES == 32);
    crypto_hash_sha256(hash.data(), reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
    return hash;
}

std::string sha256(std::string_view bytes) {
    const auto hash = sha256_bytes(bytes);
    std::string out(2 * hash.size() + 1, '\0');  // sodium ends it with a zero
    sodium_bin2hex(out.data(), out.size(), hash.data(), hash.size());
    out.pop_back();
    return out;
}

}  // namespace seatwright
