#include "seatwright/job/guard.hpp"

#include <fmt/format.h>

#include <cctype>
#include <cstdint>
#include <optional>

#include "seatwright/job/plain_text.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::job {
namespace {

constexpr int max_nesting = 12;    // a job file needs 4; the parser recurses on each
constexpr int max_key_parts = 12;  // a job file needs 4; every part is one more nested table
constexpr std::size_t max_reported = 20;
constexpr std::size_t max_word = 64;  // longer numbers carry no more meaning

bool is_key_letter(char c) {
    return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_' || c == '-';
}

// A number or truth value as TOML 1.0 writes it, but for dates, which no key of a job takes.
bool is_bare_value(std::string_view word) {
    if (word == "true" || word == "false") return true;
    std::size_t at = 0;
    if (at < word.size() && (word[at] == '+' || word[at] == '-')) ++at;
    if (word.substr(at) == "inf" || word.substr(at) == "nan") return true;
    // Digits with single underscores between them.
    const auto digits = [&](auto is_digit) {
        const std::size_t begin = at;
        while (at < word.size() &&
               (is_digit(word[at]) || (word[at] == '_' && at > begin && word[at - 1] != '_')))
            ++at;
        return at > begin && word[at - 1] != '_';
    };
    const auto decimal = [](char c) { return c >= '0' && c <= '9'; };
    if (word.starts_with("0x")) {
        at = 2;
        return digits([](char c) { return std::isxdigit(static_cast<unsigned char>(c)) != 0; }) &&
               at == word.size();
    }
    const std::size_t whole = at;
    if (!digits(decimal)) return false;
    if (at - whole > 1 && word[whole] == '0') return false;
    if (at < word.size() && word[at] == '.') {
        ++at;
        if (!digits(decimal)) return false;
    }
    if (at < word.size() && (word[at] == 'e' || word[at] == 'E')) {
        ++at;
        if (at < word.size() && (word[at] == '+' || word[at] == '-')) ++at;
        if (!digits(decimal)) return false;
    }
    return at == word.size();
}

// Reads the text by TOML's grammar without keeping anything.
class Grammar {
  public:
    Grammar(std::string_view text, const std::string& file) : text_(text), file_(file) {}

    Faults run() {
        if (text_.starts_with("\xEF\xBB\xBF")) at_ = 3;  // a byte order mark is allowed and means nothing
        while (at_ < text_.size() && faults_.size() < max_reported) {
            const int first_line = line_;
            if (statement()) continue;
            // What follows an unclosed bracket or text is anybody's guess; a bad line is not.
            if (line_ != first_line) break;
            next_line();
        }
        return std::move(faults_);
    }

  private:
    bool wrong(std::string sentence) {
        faults_.push_back({file_, line_, std::string(of_the_text), std::move(sentence)});
        return false;
    }
    bool done() const { return at_ >= text_.size(); }
    char peek() const { return done() ? '\n' : text_[at_]; }
    bool take(char c) {
        if (done() || text_[at_] != c) return false;
        ++at_;
        return true;
    }
    void blanks() {
        while (!done() && (text_[at_] == ' ' || text_[at_] == '\t')) ++at_;
    }
    bool at_line_end() const { return done() || peek() == '\n' || peek() == '\r'; }
    void next_line() {
        while (!done() && text_[at_] != '\n') ++at_;
        if (take('\n')) ++line_;
    }

    // One line, or the several lines of one key and its value.
    bool statement() {
        blanks();
        const bool empty = at_line_end() || peek() == '#';
        if (!empty && !(peek() == '[' ? header() : key_and_value(0))) return false;
        blanks();
        if (!at_line_end() && peek() != '#') return stray("the end of the line");
        next_line();
        return true;
    }

    // Complains of what stands here instead of `wanted`.
    bool stray(const std::string& wanted) {
        if (at_line_end()) return wrong(fmt::format("the line ends where {} is wanted", wanted));
        const std::string_view here = text_.substr(at_, sequence_length(text_, at_));
        if (here.size() > 1)
            return wrong(fmt::format(
                "\"{}\" stands outside quotes; put the text in quotes (\"…\") or write plain letters", here));
        return wrong(fmt::format("{} stands where {} is wanted", here, wanted));
    }

    bool header() {
        take('[');
        const bool list = take('[');
        if (!key("the name of a table, [name] or [[name]],")) return false;
        if (!take(']') || (list && !take(']'))) return stray(list ? "]]" : "]");
        return true;
    }

    // A dotted key with the blanks around it.
    bool key(const char* wanted) {
        for (int parts = 1;; ++parts) {
            if (parts > max_key_parts)
                return wrong(
                    fmt::format("a dotted key of more than {} parts; a job file needs 4", max_key_parts));
            blanks();
            if (peek() == '"' || peek() == '\'') {
                if (text_.substr(at_, 3) == std::string(3, peek())) return stray(wanted);
                if (!quoted()) return false;
            } else {
                const std::size_t begin = at_;
                while (!done() && is_key_letter(text_[at_])) ++at_;
                if (at_ == begin) return stray(wanted);
            }
            blanks();
            if (!take('.')) return true;
        }
    }

    bool key_and_value(int depth) {
        if (!key("a key")) return false;
        if (!take('=')) return stray("=");
        blanks();
        return value(depth);
    }

    bool value(int depth) {
        if (depth > max_nesting)
            return wrong(
                fmt::format("brackets are nested more than {} deep; a job file needs 4", max_nesting));
        switch (peek()) {
            case '"':
            case '\'':
                return quoted();
            case '[':
                return list(depth + 1);
            case '{':
                return inline_table(depth + 1);
            default:
                return bare_value();
        }
    }

    bool bare_value() {
        const std::size_t begin = at_;
        while (!done() &&
               (is_key_letter(text_[at_]) || text_[at_] == '.' || text_[at_] == '+' || text_[at_] == ':'))
            ++at_;
        const auto word = text_.substr(begin, at_ - begin);
        if (word.empty()) return stray("a value");
        // A word may not run into anything but what ends a value.
        if (!at_line_end() && std::string_view(" \t,]}#").find(peek()) == std::string_view::npos)
            return stray("the end of the value");
        if (word.size() > max_word || !is_bare_value(word))
            return wrong(
                fmt::format("{} is neither a number nor true or false; put texts and units in quotes",
                            word.substr(0, max_word)));
        return true;
    }

    bool list(int depth) {
        take('[');
        while (true) {
            if (!list_blanks()) return wrong("a list is not closed; wanted: ]");
            if (take(']')) return true;
            if (!value(depth)) return false;
            if (!list_blanks()) return wrong("a list is not closed; wanted: ]");
            if (take(']')) return true;
            if (!take(',')) return stray("a comma or ]");
        }
    }

    // Blanks, comments and line ends between the entries of a list; false at the end of the text.
    bool list_blanks() {
        while (true) {
            blanks();
            if (done()) return false;
            if (!at_line_end() && peek() != '#') return true;
            next_line();
        }
    }

    bool inline_table(int depth) {
        take('{');
        blanks();
        if (take('}')) return true;
        while (true) {
            if (!key_and_value(depth)) return false;
            blanks();
            if (take('}')) return true;
            if (!take(',')) return stray("a comma or }");
        }
    }

    bool quoted() {
        const char quote = text_[at_];
        const std::string three(3, quote);
        const bool is_long = text_.substr(at_, 3) == three;
        const std::string open = is_long ? three : std::string(1, quote);
        at_ += open.size();
        while (!done() && (is_long || text_[at_] != '\n')) {
            if (text_.substr(at_, open.size()) == open) {
                at_ += open.size();
                // Up to two quotes of the text itself may stand before the closing three (TOML 1.0, strings).
                for (int extra = 0; is_long && extra < 2 && take(quote); ++extra) {
                }
                return true;
            }
            if (quote == '"' && text_[at_] == '\\') {
                if (!escape(is_long)) return false;
                continue;
            }
            if (text_[at_] == '\n') ++line_;
            ++at_;
        }
        return wrong(fmt::format("a text is not closed; wanted: {}", open));
    }

    bool escape(bool is_long) {
        ++at_;
        const char c = peek();
        if (std::string_view("btnfr\"\\").find(c) != std::string_view::npos) {
            ++at_;
            return true;
        }
        if (c == 'u' || c == 'U') return code_point(c == 'u' ? 4 : 8);
        // In a long text a backslash may end the line.
        if (is_long) {
            blanks();
            if (at_line_end() && !done()) return true;
        }
        return wrong("a backslash in a text starts an escape; write \\\\ for the backslash itself");
    }

    bool code_point(int digits) {
        ++at_;
        std::uint32_t code = 0;
        for (int i = 0; i < digits; ++i, ++at_) {
            const char c = peek();
            if (std::isxdigit(static_cast<unsigned char>(c)) == 0)
                return wrong(fmt::format("an escape of {} hexadecimal figures is cut off", digits));
            const int figure = c <= '9' ? c - '0' : (c | 0x20) - 'a' + 10;
            code = code * 16 + static_cast<std::uint32_t>(figure);
        }
        if (code > 0x10FFFF || (code >= 0xD800 && code <= 0xDFFF))
            return wrong("an escape names no character of Unicode");
        return true;
    }

    std::string_view text_;
    const std::string& file_;
    std::size_t at_ = 0;
    int line_ = 1;
    Faults faults_;
};

}  // namespace

Faults guard_text(std::string_view text, const std::string& file) {
    if (text.size() > max_file_bytes)
        return {{file, 0, "",
                 fmt::format("the file has {} bytes; at most {} (16 MiB) are read", text.size(),
                             max_file_bytes)}};
    if (auto fault = check_bytes(text, file)) return {std::move(*fault)};
    return Grammar(text, file).run();
}

}  // namespace seatwright::job
