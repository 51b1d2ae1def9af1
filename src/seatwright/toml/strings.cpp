#include "seatwright/toml/strings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>

#include "seatwright/toml/bytes.hpp"

namespace seatwright::toml {
namespace {

// Letters behind a backslash and what they stand for.
constexpr std::string_view letters = "btnfr\"\\";
constexpr std::array<char32_t, 7> meanings{'\b', '\t', '\n', '\f', '\r', '"', '\\'};

Escape code_point(std::string_view text, std::size_t at, std::size_t digits) {
    Escape out{at, 0, false, ""};
    for (std::size_t i = 0; i < digits; ++i, ++out.end) {
        const char c = out.end < text.size() ? text[out.end] : '\n';
        if (std::isxdigit(static_cast<unsigned char>(c)) == 0) {
            out.wrong = fmt::format("an escape of {} hexadecimal figures is cut off", digits);
            return out;
        }
        out.code = out.code * 16 + static_cast<char32_t>(c <= '9' ? c - '0' : (c | 0x20) - 'a' + 10);
    }
    if (out.code > 0x10FFFF || (out.code >= 0xD800 && out.code <= 0xDFFF))
        out.wrong = "an escape names no character of Unicode";
    return out;
}

void append_utf8(std::string& out, char32_t code) {
    const auto byte = [&](char32_t bits) { out += static_cast<char>(bits); };
    const auto tail = [&](int shift) { byte(0x80 | (code >> shift & 0x3F)); };
    if (code < 0x80) {
        byte(code);
    } else if (code < 0x800) {
        byte(0xC0 | code >> 6);
        tail(0);
    } else if (code < 0x10000) {
        byte(0xE0 | code >> 12);
        tail(6);
        tail(0);
    } else {
        byte(0xF0 | code >> 18);
        tail(12);
        tail(6);
        tail(0);
    }
}

std::size_t after_line_ends(std::string_view text, std::size_t at) {
    return std::min(text.find_first_not_of(" \t\r\n", at), text.size());
}

}  // namespace

bool opens_long(std::string_view text, std::size_t at) {
    return at + 2 < text.size() && text[at + 1] == text[at] && text[at + 2] == text[at];
}

Escape read_escape(std::string_view text, std::size_t at, bool is_long) {
    ++at;
    const char c = at < text.size() ? text[at] : '\n';
    if (const auto known = letters.find(c); known != std::string_view::npos)
        return {at + 1, meanings[known], false, ""};
    if (c == 'u' || c == 'U') return code_point(text, at + 1, c == 'u' ? 4 : 8);
    if (is_long) {
        const auto end = text.find_first_not_of(" \t", at);
        if (end != std::string_view::npos && (text[end] == '\n' || text[end] == '\r'))
            return {after_line_ends(text, end), 0, true, ""};
    }
    return {at, 0, false, "a backslash in a text starts an escape; write \\\\ for the backslash itself"};
}

std::string unquoted(std::string_view quoted) {
    const bool is_long = quoted.size() >= 6 && opens_long(quoted, 0);
    const bool escapes = quoted.front() == '"';
    const std::size_t quotes = is_long ? 3 : 1;
    std::string_view text = quoted.substr(quotes, quoted.size() - 2 * quotes);
    // A line end right behind the opening quotes is not part of a long text.
    if (is_long && text.starts_with('\n'))
        text.remove_prefix(1);
    else if (is_long && text.starts_with("\r\n"))
        text.remove_prefix(2);
    std::string out;
    out.reserve(text.size());
    for (std::size_t at = 0; at < text.size();) {
        if (escapes && text[at] == '\\') {
            const Escape escape = read_escape(text, at, is_long);
            if (!escape.joins_lines) append_utf8(out, escape.code);
            at = escape.end;
        } else {
            if (text[at] != '\r' || !text.substr(at).starts_with("\r\n")) out += text[at];
            ++at;
        }
    }
    return out;
}

std::string quoted(std::string_view text) {
    std::string out = "\"";
    for (std::size_t i = 0; i < text.size();) {
        const auto byte = static_cast<unsigned char>(text[i]);
        const std::size_t length = sequence_length(text, i);
        if (byte == '"' || byte == '\\') out += '\\';
        if (byte < 0x20 || byte == 0x7F)
            out += fmt::format("\\u{:04X}", byte);
        else if (length > 0)
            out += text.substr(i, length);
        else
            out += "\xEF\xBF\xBD";
        i += std::max<std::size_t>(length, 1);
    }
    return out + "\"";
}

}  // namespace seatwright::toml
