#include "seatwright/store/totp.hpp"

#include <fmt/format.h>
#include <openssl/hmac.h>
#include <sodium.h>

#include <array>
#include <string_view>

namespace seatwright::store {

namespace {

constexpr std::string_view letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567";
constexpr unsigned bits_of_letter = 5, bits_of_byte = 8;

}  // namespace

std::string totp(const std::string& secret, std::uint64_t step, int digits) {
    std::array<unsigned char, 8> counter{};
    for (std::size_t i = 0; i < counter.size(); ++i)
        counter[i] = static_cast<unsigned char>(step >> (bits_of_byte * (counter.size() - 1 - i)));
    std::array<unsigned char, 20> mac{};
    unsigned length = 0;
    HMAC(EVP_sha1(), secret.data(), static_cast<int>(secret.size()), counter.data(), counter.size(),
         mac.data(), &length);
    // RFC 4226, 5.3: four bytes from the place the last half byte says, without the sign.
    const std::size_t at = mac.back() & 0x0fu;
    const std::uint32_t cut = (std::uint32_t{mac[at]} & 0x7fu) << 24 | std::uint32_t{mac[at + 1]} << 16 |
                              std::uint32_t{mac[at + 2]} << 8 | std::uint32_t{mac[at + 3]};
    std::uint32_t modulus = 1;
    for (int i = 0; i < digits; ++i) modulus *= 10;
    return fmt::format("{:0{}}", cut % modulus, digits);
}

std::optional<long long> totp_step_of(const std::string& secret, const std::string& code, long long now_s,
                                      long long after) {
    const long long now = now_s / totp_step_s;
    for (const long long step : {now, now - 1, now + 1}) {
        const std::string right = totp(secret, static_cast<std::uint64_t>(step));
        const bool same =
            code.size() == right.size() && sodium_memcmp(code.data(), right.data(), code.size()) == 0;
        if (same && step > after) return step;
    }
    return std::nullopt;
}

std::string base32(const std::string& bytes) {
    std::string out;
    unsigned held = 0, bits = 0;
    for (const char byte : bytes) {
        held = held << bits_of_byte | static_cast<unsigned char>(byte);
        bits += bits_of_byte;
        for (; bits >= bits_of_letter; bits -= bits_of_letter)
            out += letters[held >> (bits - bits_of_letter) & 31u];
        held &= (1u << bits) - 1;
    }
    if (bits > 0) out += letters[held << (bits_of_letter - bits) & 31u];
    return out;
}

std::string bytes_of_base32(const std::string& text) {
    std::string out;
    unsigned held = 0, bits = 0;
    for (const char c : text) {
        const auto at = letters.find(static_cast<char>(c >= 'a' && c <= 'z' ? c - 'a' + 'A' : c));
        if (at == std::string_view::npos) continue;
        held = held << bits_of_letter | static_cast<unsigned>(at);
        bits += bits_of_letter;
        if (bits < bits_of_byte) continue;
        bits -= bits_of_byte;
        out += static_cast<char>(held >> bits & 0xffu);
        held &= (1u << bits) - 1;
    }
    return out;
}

}  // namespace seatwright::store
