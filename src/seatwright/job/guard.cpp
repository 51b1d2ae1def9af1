#include "seatwright/job/guard.hpp"

#include <fmt/format.h>

#include <cctype>

#include "seatwright/job/reader.hpp"

namespace seatwright::job {
namespace {

constexpr int max_nesting = 12;    // a job file needs 4; the parser recurses on each
constexpr int max_key_parts = 12;  // a job file needs 4; every part is one more nested table
constexpr std::size_t max_reported = 20;

// Length of the UTF-8 sequence at `at`, 0 if it is not one (RFC 3629: no overlong forms, no surrogates).
std::size_t sequence_length(std::string_view text, std::size_t at) {
    const auto byte = [&](std::size_t i) -> unsigned {
        return at + i < text.size() ? static_cast<unsigned char>(text[at + i]) : 0u;
    };
    const auto tail = [&](std::size_t i) { return (byte(i) & 0xC0u) == 0x80u; };
    const unsigned lead = byte(0);
    if (lead < 0x80) return 1;
    if (lead >= 0xC2 && lead <= 0xDF) return tail(1) ? 2 : 0;
    if (lead >= 0xE0 && lead <= 0xEF) {
        if (lead == 0xE0 && byte(1) < 0xA0) return 0;
        if (lead == 0xED && byte(1) > 0x9F) return 0;
        return tail(1) && tail(2) ? 3 : 0;
    }
    if (lead >= 0xF0 && lead <= 0xF4) {
        if (lead == 0xF0 && byte(1) < 0x90) return 0;
        if (lead == 0xF4 && byte(1) > 0x8F) return 0;
        return tail(1) && tail(2) && tail(3) ? 4 : 0;
    }
    return 0;
}

// Bytes TOML forbids everywhere: controls but tab, line feed and carriage return.
bool is_control(char c) {
    const auto byte = static_cast<unsigned char>(c);
    return (byte < 0x20 && c != '\t' && c != '\n' && c != '\r') || byte == 0x7F;
}

// Walks the text once, knowing only strings, comments and brackets.
class Scanner {
  public:
    Scanner(std::string_view text, const std::string& file) : text_(text), file_(file) {}

    Faults run() {
        if (text_.starts_with("\xEF\xBB\xBF"))
            at_ = begin_ = 3;  // a byte order mark is allowed and means nothing
        while (at_ < text_.size() && faults_.size() < max_reported) {
            const std::size_t length = sequence_length(text_, at_);
            if (length == 0) {
                fault(fmt::format("byte 0x{:02X} is not UTF-8 text; save the file as UTF-8",
                                  static_cast<unsigned char>(text_[at_])));
                break;
            }
            step(length);
        }
        return std::move(faults_);
    }

  private:
    enum class State { plain, comment, basic, literal, long_basic, long_literal };

    void fault(std::string sentence) {
        if (line_ != last_fault_line_) faults_.push_back({file_, line_, "", std::move(sentence)});
        last_fault_line_ = line_;
    }

    void step(std::size_t length) {
        const char c = text_[at_];
        if (length == 1 && is_control(c))
            fault(fmt::format("control byte 0x{:02X}; a job file is plain text",
                              static_cast<unsigned char>(c)));
        if (c == '\n') {
            ++line_;
            fresh_line_ = true;
            if (state_ != State::long_basic && state_ != State::long_literal) state_ = State::plain;
            parts_ = 0;
            ++at_;
            return;
        }
        switch (state_) {
            case State::comment:
                at_ += length;
                break;
            case State::plain:
                plain(c, length);
                break;
            case State::basic:
            case State::literal:
                in_string(c, length);
                break;
            case State::long_basic:
            case State::long_literal:
                in_long_string(c, length);
                break;
        }
    }

    void plain(char c, std::size_t length) {
        if (length > 1) {
            fault(fmt::format(
                "\"{}\" stands outside quotes; put the text in quotes (\"…\") or write plain letters",
                text_.substr(at_, length)));
        } else if (c == '#') {
            state_ = State::comment;
        } else if ((c == '"' || c == '\'') && !may_open_string()) {
            fault("a quote in the middle of a word; a text starts after =, a comma, a bracket or a blank");
            at_ = text_.size();
            return;
        } else if (c == '"' || c == '\'') {
            const bool is_long = text_.substr(at_, 3) == std::string(3, c);
            state_ = c == '"' ? (is_long ? State::long_basic : State::basic)
                              : (is_long ? State::long_literal : State::literal);
            at_ += is_long ? 3 : 1;
            return;
        } else if (c == '[' || c == '{') {
            parts_ = 0;
            if (c == '[' && depth_ == 0 && fresh_line_ && !names_a_table())
                fault("a table header without a name; wanted: [name] or [[name]]");
            if (++depth_ > max_nesting) {
                fault(fmt::format("brackets are nested more than {} deep; a job file needs 4", max_nesting));
                at_ = text_.size();
                return;
            }
        } else if (c == ']' || c == '}') {
            parts_ = 0;
            if (depth_ > 0) --depth_;
        } else if (c == '=' || c == ',') {
            parts_ = 0;
        } else if (c == '.' && ++parts_ > max_key_parts) {
            fault(fmt::format("a dotted key of more than {} parts; a job file needs 4", max_key_parts));
            at_ = text_.size();
            return;
        }
        if (c != ' ' && c != '\t') fresh_line_ = false;
        at_ += length;
    }

    // The parser reads `2"é"` as one word, quotes and all.
    bool may_open_string() const {
        if (at_ == begin_) return true;
        return std::string_view(" \t\n\r=,[{.").find(text_[at_ - 1]) != std::string_view::npos;
    }

    // A header's bracket must be followed by a key: the parser takes that for granted.
    bool names_a_table() const {
        std::size_t i = at_ + 1;
        const auto skip_blanks = [&] {
            while (i < text_.size() && (text_[i] == ' ' || text_[i] == '\t')) ++i;
        };
        if (i < text_.size() && text_[i] == '[') ++i;
        skip_blanks();
        if (i >= text_.size()) return false;
        const char c = text_[i];
        return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '-' || c == '_' || c == '"' ||
               c == '\'' || static_cast<unsigned char>(c) >= 0x80;  // told elsewhere
    }

    void in_string(char c, std::size_t length) {
        if (state_ == State::basic && c == '\\') {
            ++at_;
            if (at_ < text_.size() && static_cast<unsigned char>(text_[at_]) < 0x80 && text_[at_] != '\n')
                ++at_;
            return;
        }
        if (c == (state_ == State::basic ? '"' : '\'')) state_ = State::plain;
        at_ += length;
    }

    void in_long_string(char c, std::size_t length) {
        const char quote = state_ == State::long_basic ? '"' : '\'';
        if (state_ == State::long_basic && c == '\\') {
            ++at_;
            if (at_ < text_.size() && static_cast<unsigned char>(text_[at_]) < 0x80 && text_[at_] != '\n')
                ++at_;
            return;
        }
        if (c == quote && text_.substr(at_, 3) == std::string(3, quote)) {
            at_ += 3;
            // Up to two quotes of the text itself may stand before the closing three (TOML 1.0, strings).
            for (int extra = 0; extra < 2 && at_ < text_.size() && text_[at_] == quote; ++extra) ++at_;
            state_ = State::plain;
            return;
        }
        at_ += length;
    }

    std::string_view text_;
    const std::string& file_;
    std::size_t at_ = 0;
    std::size_t begin_ = 0;
    int line_ = 1;
    int last_fault_line_ = 0;
    bool fresh_line_ = true;  // nothing but blanks so far
    int depth_ = 0;
    int parts_ = 0;
    State state_ = State::plain;
    Faults faults_;
};

}  // namespace

Faults guard_text(std::string_view text, const std::string& file) {
    if (text.size() > max_file_bytes)
        return {{file, 0, "",
                 fmt::format("the file has {} bytes; at most {} (16 MiB) are read", text.size(),
                             max_file_bytes)}};
    return Scanner(text, file).run();
}

}  // namespace seatwright::job
