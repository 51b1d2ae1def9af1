#include "seatwright/papers/page/record_mark.hpp"

#include <fmt/format.h>
#include <sodium.h>

#include <array>

namespace seatwright::papers {

std::string sha256(const std::string& bytes) {
    std::array<unsigned char, crypto_hash_sha256_BYTES> digest{};
    crypto_hash_sha256(digest.data(), reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
    std::string out;
    for (const unsigned char b : digest) out += fmt::format("{:02x}", b);
    return out;
}

std::string short_mark(const std::string& bytes) {
    const std::string all = sha256(bytes);
    return fmt::format("{} {} {} {}", all.substr(0, 4), all.substr(4, 4), all.substr(8, 4),
                       all.substr(12, 4));
}

}  // namespace seatwright::papers
