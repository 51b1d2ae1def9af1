// From text to tree. Reads the whole of TOML 1.0, tells every fault, and goes on behind each.
#pragma once

#include <string>
#include <string_view>

#include "seatwright/toml/builder.hpp"
#include "seatwright/toml/tree.hpp"

namespace seatwright::toml {

class Parser {
  public:
    // `tree` holds its text and rules, nothing else.
    explicit Parser(Tree& tree);
    void run();

  private:
    enum class Next { entry, closed, broken };
    struct Span {
        std::uint32_t begin = 0, end = 0;
    };

    // A fault at a byte; false, so that it can be returned.
    bool wrong(std::size_t at, Cause cause, std::string sentence);
    bool grammar(std::size_t at, std::string sentence) {
        return wrong(at, Cause::grammar, std::move(sentence));
    }
    bool stray(std::string_view wanted);
    bool only_counted(std::size_t at);
    bool on_a_line_of_bad_bytes(std::size_t at) const;
    Place place_of(std::size_t at);
    void sort_faults();

    bool done() const { return at_ >= text_.size(); }
    char peek() const { return done() ? '\n' : text_[at_]; }
    bool at_line_end() const { return peek() == '\n' || peek() == '\r'; }
    std::uint32_t here() const { return static_cast<std::uint32_t>(at_); }
    bool take(char c);
    void blanks();
    void next_line();

    // True when it was read to its end, though what it says may be at fault; false when nobody can say where
    // it ends.
    bool statement();
    bool header();
    bool key(DottedKey& out, std::string_view wanted);
    bool key_part(KeyPart& out, std::string_view wanted);
    bool key_and_value(Id table, int depth);
    bool value(Id id, int depth);
    bool list(Id id, int depth);
    bool word_list(Id id, int depth, bool& has_brackets);
    bool bracket_list(Id id, int depth);
    bool inline_table(Id id, int depth);
    bool scalar(Node& node);
    bool quoted(Span& out);
    bool word(Node& node);
    bool shallow(int depth);
    Next next_entry(std::size_t begin, bool first);
    Form form_of_word(std::size_t at, std::string_view word);
    void close(Id id, Form form, std::size_t told_before);

    void go_on_behind(std::size_t begin);
    void end_of_doubt(std::size_t at);
    bool looks_like_a_statement();

    Tree& tree_;
    std::string_view text_;
    Builder builder_;
    BadBytes bad_bytes_;
    std::size_t at_ = 0;
    Id table_ = root_id;  // that keys go to
    Id last_ = none;      // the key read last
    bool open_ = false;   // the statement ended within brackets or a long text
    std::size_t doubt_from_ = std::string_view::npos;
    bool quiet_ = false;    // only asking: faults are not told
    std::size_t told_ = 0;  // faults found, told or not
    std::size_t read_twice_ = 0;
    Place placed_{0, 1, 1};  // of the last fault
};

}  // namespace seatwright::toml
