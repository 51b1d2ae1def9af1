// argon2id strings and random tokens, by libsodium.
#pragma once

#include <string>

#include "seatwright/store/people.hpp"

namespace seatwright::store {

// Brings libsodium up; throws std::runtime_error if the system gives no randomness.
void start_sodium();

// Error: a sentence (no memory for the hash).
Answer<std::string> hash_password(const std::string& password, PasswordCost cost);
bool password_fits(const std::string& hash, const std::string& password);

std::string random_bytes(std::size_t count);

// BLAKE2b-256 of a token, hexadecimal: what the database keeps.
std::string token_hash(const std::string& token);

}  // namespace seatwright::store
