#include "seatwright/store/passwords.hpp"

#include <sodium.h>

#include <array>
#include <stdexcept>

namespace seatwright::store {

namespace {

std::string hex_of(const unsigned char* bytes, std::size_t count) {
    std::string text(2 * count + 1, '\0');
    sodium_bin2hex(text.data(), text.size(), bytes, count);
    text.pop_back();
    return text;
}

}  // namespace

void start_sodium() {
    if (sodium_init() < 0) throw std::runtime_error("the system gives no random numbers for passwords");
}

Answer<std::string> hash_password(const std::string& password, PasswordCost cost) {
    start_sodium();
    std::array<char, crypto_pwhash_STRBYTES> text{};
    const int failed = crypto_pwhash_str_alg(text.data(), password.data(), password.size(), cost.passes,
                                             cost.memory_bytes, crypto_pwhash_ALG_ARGON2ID13);
    if (failed != 0) return refuse(Why::bad, "there is not enough memory to store a password safely");
    return std::string(text.data());
}

bool password_fits(const std::string& hash, const std::string& password) {
    start_sodium();
    return crypto_pwhash_str_verify(hash.c_str(), password.data(), password.size()) == 0;
}

std::string token_hash(const std::string& token) {
    std::array<unsigned char, crypto_generichash_BYTES> bytes{};
    crypto_generichash(bytes.data(), bytes.size(), reinterpret_cast<const unsigned char*>(token.data()),
                       token.size(), nullptr, 0);
    return hex_of(bytes.data(), bytes.size());
}

std::string random_bytes(std::size_t count) {
    start_sodium();
    std::string bytes(count, '\0');
    randombytes_buf(bytes.data(), bytes.size());
    return bytes;
}

std::string random_hex(std::size_t count) {
    const std::string bytes = random_bytes(count);
    return hex_of(reinterpret_cast<const unsigned char*>(bytes.data()), bytes.size());
}

}  // namespace seatwright::store
