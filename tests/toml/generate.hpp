// Invented TOML texts for tests: whole ones over few names, so that keys and tables meet often, and damaged
// ones.
#pragma once

#include <random>
#include <string>

namespace seatwright::toml::test {

using Random = std::mt19937_64;

// Some headers, keys, values of every kind, comments and blank lines; keys may be given twice.
std::string text_of_statements(Random& random, int statements);

// One to three places of a text changed: letters of TOML put in, taken out, doubled, or cut off.
std::string damaged(Random& random, std::string text);

// One value as written; `depth` bounds its brackets.
std::string value_text(Random& random, int depth);

}  // namespace seatwright::toml::test
