#include "seatwright/cut/words.hpp"

#include <fmt/format.h>

#include <array>
#include <cctype>
#include <charconv>

namespace seatwright::cut {

namespace {

constexpr std::string_view letters = "ABCDFGHIJKLMPQRSTXYZ";
constexpr int most_line_number_digits = 5;

struct Reader {
    std::string_view text;
    CommentStyle style;
    std::size_t at = 0;
    ProgramLine line;
    std::string error;

    bool done() const { return at >= text.size() || !error.empty(); }
    void skip_blanks() {
        while (at < text.size() && (text[at] == ' ' || text[at] == '\t')) ++at;
    }

    void comment() {
        const std::size_t close = text.find(')', at), open = text.find('(', at + 1);
        if (close == std::string_view::npos) {
            error = "a comment is not closed";
        } else if (open < close) {
            error = "a comment inside a comment";
        } else {
            line.comments.emplace_back(text.substr(at + 1, close - at - 1));
            at = close + 1;
        }
    }

    // Digits, sign and point with the blanks between them left out, as the language has it.
    std::string_view digits(std::array<char, longest_line>& room, bool sign_allowed) {
        std::size_t n = 0;
        bool point = false;
        for (;; ++at) {
            skip_blanks();
            if (at >= text.size() || n >= room.size()) break;
            const char c = text[at];
            if ((c == '+' || c == '-') && n == 0 && sign_allowed) {
                if (c == '-') room[n++] = c;
                sign_allowed = false;
                continue;
            }
            if (c == '.' && !point)
                point = true;
            else if (std::isdigit(static_cast<unsigned char>(c)) == 0)
                break;
            room[n++] = c;
            sign_allowed = false;
        }
        return {room.data(), n};
    }

    void line_number() {
        std::array<char, longest_line> room;
        const std::string_view found = digits(room, false);
        int value = 0;
        const auto [end, fault] = std::from_chars(found.data(), found.data() + found.size(), value);
        if (found.empty() || fault != std::errc{} || end != found.data() + found.size() ||
            found.size() > most_line_number_digits)
            error = "a line number is up to five digits";
        else
            line.number = value;
    }

    void word(char letter) {
        std::array<char, longest_line> room;
        const std::string_view found = digits(room, true);
        double value = 0;
        const auto [end, fault] = std::from_chars(found.data(), found.data() + found.size(), value);
        if (fault != std::errc{} || end != found.data() + found.size())
            error = fmt::format("{} is not followed by a number", letter);
        else
            line.words.push_back({letter, value});
    }

    void next() {
        skip_blanks();
        if (done()) return;
        const char c = text[at];
        if (c == '(') return comment();
        if (c == ';' && style == CommentStyle::semicolons_too) {
            line.comments.emplace_back(text.substr(at + 1));
            at = text.size();
            return;
        }
        const char letter = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
        ++at;
        if (letter == 'N' && line.words.empty() && line.comments.empty() && line.number < 0)
            return line_number();
        if (letters.find(letter) == std::string_view::npos) {
            error = std::isprint(static_cast<unsigned char>(c)) != 0
                        ? fmt::format("'{}' has no place here", c)
                        : "a character that cannot be printed";
            return;
        }
        word(letter);
    }
};

}  // namespace

tl::expected<ProgramLine, std::string> read_line(std::string_view text, CommentStyle style) {
    if (!text.empty() && text.back() == '\r') text.remove_suffix(1);
    if (text.size() > longest_line)
        return tl::unexpected(fmt::format("{} characters, a line has at most {}", text.size(), longest_line));
    Reader reader{text, style, 0, {}, {}};
    reader.skip_blanks();
    if (!reader.done() && text[reader.at] == '%') {
        ++reader.at;
        reader.skip_blanks();
        if (!reader.done()) return tl::unexpected(std::string("something follows %"));
        reader.line.percent = true;
    }
    while (!reader.done()) reader.next();
    if (!reader.error.empty()) return tl::unexpected(reader.error);
    return std::move(reader.line);
}

}  // namespace seatwright::cut
