// What can be wrong with a text, and which parts of TOML it may use.
#pragma once

#include <cstddef>
#include <string>

namespace seatwright::toml {

// Brackets in brackets, and parts of a dotted key; a job file needs 4 of each.
inline constexpr int max_nesting = 12;
inline constexpr int max_key_parts = 12;
// Faults told of one text; more are counted.
inline constexpr std::size_t max_faults = 200;

// Which parts of TOML 1.0 a text may use.
struct Rules {
    std::size_t most_bytes = 16u << 20;
    bool moments = true;           // dates and times
    bool octal_and_binary = true;  // 0o17, 0b11
};

enum class Cause {
    size,     // more than Rules::most_bytes: nothing of the text is read
    bytes,    // not UTF-8, or a control
    grammar,  // not TOML 1.0
    value,    // a number out of range
    twice,    // a key or table given before, or one that cannot be there beside what was given before
    limit     // TOML 1.0, but beyond a limit or not taken by the rules
};

struct Place {
    std::size_t byte = 0;
    int line = 0;    // from 1; 0: the text as a whole
    int column = 0;  // from 1, in characters
};

struct Wrong {
    Place at;
    Cause cause = Cause::grammar;
    std::string text;  // what is wrong and what would be right, a sentence
};

}  // namespace seatwright::toml
