// Texts in quotes: the four kinds of TOML 1.0, read and written.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace seatwright::toml {

// True at three quotes of a kind: a text over several lines.
bool opens_long(std::string_view text, std::size_t at);

// What stands behind a backslash at `at`.
struct Escape {
    std::size_t end = 0;  // byte after it; where it breaks off if it is wrong
    char32_t code = 0;
    bool joins_lines = false;  // a backslash at the end of a line of a long text: names no character
    std::string wrong;         // empty if it is good
};
Escape read_escape(std::string_view text, std::size_t at, bool is_long);

// The byte after the closing quotes of the text that begins at `at`; npos if it is not closed. `escape(at)`
// is asked at each backslash of a text with escapes where to go on.
template <class Escaped>
std::size_t quoted_end(std::string_view text, std::size_t at, Escaped&& escape) {
    const char quote = text[at];
    const bool is_long = opens_long(text, at);
    const auto quotes_at = [&](std::size_t i) { return i < text.size() && text[i] == quote; };
    at += is_long ? 3 : 1;
    while (at < text.size()) {
        const char c = text[at];
        if (c == quote) {
            if (!is_long) return at + 1;
            if (quotes_at(at + 1) && quotes_at(at + 2)) {
                at += 3;
                // Up to two quotes of the text itself may stand before the closing three (TOML 1.0, strings).
                for (int extra = 0; extra < 2 && quotes_at(at); ++extra) ++at;
                return at;
            }
        } else if (c == '\\' && quote == '"') {
            at = escape(at);
            continue;
        } else if (c == '\n' && !is_long) {
            break;
        }
        ++at;
    }
    return std::string_view::npos;
}

// What a text without faults says; `quoted` holds its quotes too. Line ends of a long text become line feeds.
std::string unquoted(std::string_view quoted);

// A text in quotes on one line, quotes and controls escaped; bytes that are not UTF-8 become U+FFFD.
std::string quoted(std::string_view text);

}  // namespace seatwright::toml
