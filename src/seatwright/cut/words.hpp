// One line of RS-274/NGC taken apart into words and comments, strictly by the rules of the language (NISTIR
// 6556, section 3.3): no more than 256 characters; blanks and case do not count outside comments; a line
// number first, unsigned, at most five digits; every other letter followed by a decimal number; comments do
// not nest. Parameters, expressions and block delete exist in the language but have no place in a seat
// program: refused.
#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

namespace seatwright::cut {

inline constexpr std::size_t longest_line = 256;

struct Word {
    char letter = ' ';  // upper case
    double value = 0;
};

struct ProgramLine {
    int number = -1;  // N word; -1 = none
    std::vector<Word> words;
    std::vector<std::string> comments;
    bool percent = false;  // a line that is only "%"
};

// Error: a sentence about this line. `semicolons` in `style` allows comments from ";" to the end of the line,
// a common extension.
enum class CommentStyle { parentheses_only, semicolons_too };
tl::expected<ProgramLine, std::string> read_line(std::string_view text, CommentStyle style);

}  // namespace seatwright::cut
