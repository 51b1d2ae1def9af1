// Words of a JSON body that stand for values: a table of pairs, read one way and the other.
#pragma once

#include <fmt/format.h>

#include <string>

#include "server/http/http_error.hpp"

namespace seatwright::server {

// The value of that word; 400 with all the words when it is none of them. `key`: what the body calls it.
template <class Words>
auto named(const Words& words, const std::string& name, const std::string& key) {
    for (const auto& [value, word] : words)
        if (word == name) return value;
    std::string all;
    for (const auto& [value, word] : words) all += (all.empty() ? "" : ", ") + std::string(word);
    throw http_error(400, fmt::format("{} is one of {}", key, all));
}

template <class Words, class Value>
std::string word_in(const Words& words, Value wanted) {
    for (const auto& [value, word] : words)
        if (value == wanted) return word;
    return words.front().second;
}

}  // namespace seatwright::server
