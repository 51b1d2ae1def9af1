// Passwords that are guessed first: words of a dictionary and what people make of them, by cracklib where its
// dictionary is on the machine, and a short list of our own where not.
#pragma once

#include <optional>
#include <string>

namespace seatwright::store {

// A sentence why that password of that person is no good; nothing if it is not among those guessed first.
std::optional<std::string> guessed_first(const std::string& password, const std::string& name);

}  // namespace seatwright::store
