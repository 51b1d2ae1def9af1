// The part of the parser that reads values.
#include <fmt/format.h>

#include <algorithm>

#include "seatwright/toml/parser.hpp"
#include "seatwright/toml/strings.hpp"
#include "seatwright/toml/words.hpp"

namespace seatwright::toml {

bool Parser::shallow(int depth) {
    return depth <= max_nesting ||
           wrong(at_, Cause::limit,
                 fmt::format("brackets are nested more than {} deep; a job file needs 4", max_nesting));
}

bool Parser::value(Id id, int depth) {
    Node& node = tree_.nodes[id];
    node.begin = node.end = here();
    if (!shallow(depth)) return false;
    const bool in_brackets = peek() == '[' || peek() == '{';
    const bool is_long = opens_long(text_, at_);
    const bool good = peek() == '['   ? list(id, depth + 1)
                      : peek() == '{' ? inline_table(id, depth + 1)
                                      : scalar(node);
    open_ = open_ || (!good && (in_brackets || is_long));
    return good;
}

bool Parser::scalar(Node& node) {
    if (peek() != '"' && peek() != '\'') return word(node);
    const std::size_t told = told_;
    Span span;
    if (!quoted(span)) return false;
    node.begin = span.begin;
    node.end = span.end;
    node.form = told == told_ ? Form::text : Form::nothing;
    return true;
}

// A container without a fault in it.
void Parser::close(Id id, Form form, std::size_t told_before) {
    Node& node = tree_.nodes[id];
    node.end = here();
    node.form = told_ == told_before ? form : Form::nothing;
}

bool Parser::list(Id id, int depth) {
    const std::size_t begin = at_, told = told_, faults = tree_.faults.size(), more = tree_.more_faults;
    bool has_brackets = false;
    const bool good = word_list(id, depth, has_brackets);
    if (!has_brackets) return good;
    at_ = begin;
    told_ = told;
    tree_.faults.resize(faults);
    tree_.more_faults = more;
    return bracket_list(id, depth);
}

Parser::Next Parser::next_entry(std::size_t begin, bool first) {
    const auto not_closed = [&] {
        grammar(begin, "a list is not closed; wanted: ]");
        return Next::broken;
    };
    at_ = after_space(text_, at_);
    if (done()) return not_closed();
    if (take(']')) return Next::closed;
    if (first) return Next::entry;
    if (!take(',')) {
        stray("a comma or ]");
        return Next::broken;
    }
    at_ = after_space(text_, at_);
    if (done()) return not_closed();
    return take(']') ? Next::closed : Next::entry;
}

bool Parser::word_list(Id id, int depth, bool& has_brackets) {
    const std::size_t begin = at_, told = told_;
    take('[');
    Next next = next_entry(begin, true);
    for (; next == Next::entry; next = next_entry(begin, false)) {
        if (peek() == '[' || peek() == '{') {
            has_brackets = true;
            return false;
        }
        Node entry;
        if (!shallow(depth) || !scalar(entry)) return false;
    }
    if (next == Next::closed) close(id, Form::word_list, told);
    return next == Next::closed;
}

bool Parser::bracket_list(Id id, int depth) {
    const std::size_t begin = at_, told = told_;
    take('[');
    Next next = next_entry(begin, true);
    for (; next == Next::entry; next = next_entry(begin, false))
        if (!value(builder_.entry(id), depth)) return false;
    if (next == Next::closed) close(id, Form::list, told);
    return next == Next::closed;
}

bool Parser::inline_table(Id id, int depth) {
    const std::size_t told = told_;
    take('{');
    blanks();
    while (!take('}')) {
        if (!key_and_value(id, depth)) return false;
        blanks();
        if (peek() == '}') continue;
        if (!take(',')) return stray("a comma or }");
        blanks();
        if (peek() == '}') return stray("a key");
    }
    close(id, Form::inline_table, told);
    return true;
}

bool Parser::quoted(Span& out) {
    const std::size_t begin = at_;
    const bool is_long = opens_long(text_, at_);
    const std::size_t end = quoted_end(text_, at_, [&](std::size_t at) {
        Escape escape = read_escape(text_, at, is_long);
        if (!escape.wrong.empty()) grammar(at, std::move(escape.wrong));
        return escape.end;
    });
    if (end == std::string_view::npos) {
        at_ = is_long ? text_.size() : std::min(text_.find('\n', at_), text_.size());
        return grammar(begin, fmt::format("a text is not closed; wanted: {}",
                                          std::string(is_long ? 3 : 1, text_[begin])));
    }
    at_ = end;
    out = {static_cast<std::uint32_t>(begin), here()};
    return true;
}

bool Parser::word(Node& node) {
    const std::size_t begin = at_;
    at_ = word_end(text_, at_);
    if (at_ == begin) return stray("a value");
    // A word may not run into anything but what ends a value.
    if (!at_line_end() && std::string_view(" \t,]}#").find(peek()) == std::string_view::npos)
        return stray("the end of the value");
    node.begin = static_cast<std::uint32_t>(begin);
    node.end = here();
    node.form = form_of_word(begin, text_.substr(begin, at_ - begin));
    return true;
}

Form Parser::form_of_word(std::size_t at, std::string_view word) {
    const auto refuse = [&](Cause cause) {
        wrong(at, cause,
              fmt::format("{} is neither a number nor true or false; put texts and units in quotes",
                          word.substr(0, max_word)));
        return Form::nothing;
    };
    const Rules& rules = tree_.rules;
    switch (kind_of_word(word)) {
        case Word::flag:
            return Form::flag;
        case Word::integer:
            if (!rules.octal_and_binary && (word.starts_with("0o") || word.starts_with("0b")))
                return refuse(Cause::limit);
            return Form::integer;
        case Word::number:
            return Form::number;
        case Word::moment:
            return rules.moments ? Form::moment : refuse(Cause::limit);
        case Word::beyond:
            wrong(at, Cause::value,
                  fmt::format("{} is too large a number; check its figures and its exponent", word));
            return Form::nothing;
        case Word::nonsense:
            break;
    }
    return refuse(word.size() > max_word ? Cause::limit : Cause::grammar);
}

}  // namespace seatwright::toml
