#include "seatwright/toml/parser.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/toml/strings.hpp"
#include "seatwright/toml/words.hpp"

namespace seatwright::toml {

Parser::Parser(Tree& tree) : tree_(tree), text_(tree.text), builder_(tree) {}

void Parser::run() {
    if (text_.size() > tree_.rules.most_bytes) {
        tree_.faults.push_back(
            {{0, 0, 0},
             Cause::size,
             fmt::format("the file has {} bytes; at most {} ({} MiB) are read", text_.size(),
                         tree_.rules.most_bytes, tree_.rules.most_bytes >> 20)});
        return;
    }
    bad_bytes_ = bad_bytes(text_, max_faults);
    if (text_.starts_with("\xEF\xBB\xBF")) at_ = 3;  // a byte order mark is allowed and means nothing
    while (!done()) {
        const std::size_t begin = at_;
        if (!statement()) go_on_behind(begin);
    }
    end_of_doubt(text_.size() + 1);
    sort_faults();
}

// Faults.

bool Parser::wrong(std::size_t at, Cause cause, std::string sentence) {
    if (!only_counted(at)) tree_.faults.push_back({place_of(at), cause, std::move(sentence)});
    return false;
}

// Counts a fault; false if it is to be told too.
bool Parser::only_counted(std::size_t at) {
    ++told_;
    if (quiet_ || on_a_line_of_bad_bytes(at)) return true;
    if (tree_.faults.size() < max_faults) return false;
    ++tree_.more_faults;
    return true;
}

// Complains of what stands here instead of `wanted`.
bool Parser::stray(std::string_view wanted) {
    if (only_counted(at_)) return false;
    std::string sentence = fmt::format("the line ends where {} is wanted", wanted);
    if (!at_line_end()) {
        const auto letter = text_.substr(at_, std::max<std::size_t>(sequence_length(text_, at_), 1));
        sentence = letter.size() > 1
                       ? fmt::format(
                             "\"{}\" stands outside quotes; put the text in quotes (\"…\") or write "
                             "plain letters",
                             letter)
                       : fmt::format("{} stands where {} is wanted", letter, wanted);
    }
    tree_.faults.push_back({place_of(at_), Cause::grammar, std::move(sentence)});
    return false;
}

// The byte is what is wrong with such a line; what the grammar makes of it is not told.
bool Parser::on_a_line_of_bad_bytes(std::size_t at) const {
    if (bad_bytes_.first.empty()) return false;
    const int line = tree_.lines.line_of(at);
    const auto found = std::lower_bound(bad_bytes_.first.begin(), bad_bytes_.first.end(), line,
                                        [](const BadByte& bad, int l) { return bad.line < l; });
    return found != bad_bytes_.first.end() && found->line == line;
}

// Counted on from the last fault where it stands in the same line, which may be the whole text.
Place Parser::place_of(std::size_t at) {
    const int line = tree_.lines.line_of(at);
    if (line != placed_.line || at < placed_.byte) placed_ = {tree_.lines.begin(at), line, 1};
    placed_.column += characters(text_.substr(placed_.byte, at - placed_.byte));
    placed_.byte = at;
    return placed_;
}

void Parser::sort_faults() {
    std::vector<Wrong>& all = tree_.faults;
    all.reserve(all.size() + bad_bytes_.first.size());
    for (auto& bad : bad_bytes_.first) all.push_back({place_of(bad.at), Cause::bytes, std::move(bad.text)});
    std::stable_sort(all.begin(), all.end(),
                     [](const Wrong& a, const Wrong& b) { return a.at.byte < b.at.byte; });
    tree_.more_faults += bad_bytes_.more;
    if (all.size() <= max_faults) return;
    tree_.more_faults += all.size() - max_faults;
    all.resize(max_faults);
}

// Letters.

bool Parser::take(char c) {
    if (done() || text_[at_] != c) return false;
    ++at_;
    return true;
}

void Parser::blanks() {
    while (!done() && (text_[at_] == ' ' || text_[at_] == '\t')) ++at_;
}

void Parser::next_line() {
    const auto feed = text_.find('\n', at_);
    at_ = feed == std::string_view::npos ? text_.size() : feed + 1;
}

// Statements.

// One line, or the several lines of one key and its value.
bool Parser::statement() {
    blanks();
    last_ = none;
    open_ = false;
    if (!at_line_end() && peek() != '#') {
        if (!(peek() == '[' ? header() : key_and_value(table_, 0))) return false;
        blanks();
        if (!at_line_end() && peek() != '#') {
            if (last_ != none) tree_.nodes[last_].form = Form::nothing;
            return stray("the end of the line");
        }
    }
    next_line();
    return true;
}

bool Parser::header() {
    const std::uint32_t begin = here();
    take('[');
    const bool is_list = take('[');
    DottedKey name;
    bool good = key(name, "the name of a table, [name] or [[name]],");
    if (good && (!take(']') || (is_list && !take(']')))) good = stray(is_list ? "]]" : "]");
    if (good) {
        const Put put =
            is_list ? builder_.table_of_list(name, begin, here()) : builder_.table(name, begin, here());
        if (!put.wrong.empty()) wrong(begin, Cause::twice, put.wrong);
        table_ = put.node;
    } else {
        table_ = builder_.lost_table(begin);
    }
    if (good) end_of_doubt(begin);
    const bool begins_here = tree_.nodes[table_].begin == begin;
    tree_.headers.push_back(begins_here ? table_ : builder_.lost_table(begin));
    return good;
}

// A dotted key with the blanks around it.
bool Parser::key(DottedKey& out, std::string_view wanted) {
    while (true) {
        if (out.count == max_key_parts)
            return wrong(
                at_, Cause::limit,
                fmt::format("a dotted key of more than {} parts; a job file needs 4", max_key_parts));
        blanks();
        if (!key_part(out.parts[out.count], wanted)) return false;
        ++out.count;
        blanks();
        if (!take('.')) return true;
    }
}

bool Parser::key_part(KeyPart& out, std::string_view wanted) {
    if (peek() == '"' || peek() == '\'') {
        if (opens_long(text_, at_)) return stray(wanted);
        Span span;
        if (!quoted(span)) return false;
        out = {span.begin, span.end};
        return true;
    }
    out.begin = here();
    while (!done() && is_key_letter(text_[at_])) ++at_;
    out.end = here();
    return out.end > out.begin || stray(wanted);
}

bool Parser::key_and_value(Id table, int depth) {
    DottedKey name;
    const std::size_t told = told_;
    if (!key(name, "a key")) return false;
    // A key with a bad escape has no name.
    const Put put = told_ == told ? builder_.key(table, name) : Put{builder_.lost_table(name.begin()), ""};
    if (!put.wrong.empty()) wrong(name.begin(), Cause::twice, put.wrong);
    tree_.nodes[put.node].form = Form::nothing;
    const bool good = (take('=') || stray("=")) && (blanks(), value(put.node, depth));
    last_ = put.node;
    return good;
}

// Goes on where the text can be understood again: behind this line, or, when it was about several lines, at
// the next of them that looks like a statement. What was read twice that way is kept linear in the text.
void Parser::go_on_behind(std::size_t begin) {
    const std::size_t reached = at_;
    const bool swallows =
        open_ && (at_line_end() || tree_.lines.line_of(reached) > tree_.lines.line_of(begin));
    if (swallows) doubt_from_ = std::min(doubt_from_, begin);
    at_ = begin;
    next_line();
    if (reached < at_ || done()) return;
    if (read_twice_ > 2 * text_.size()) {
        at_ = reached;
        next_line();
        return;
    }
    while (!done() && !looks_like_a_statement()) next_line();
    if (at_ < reached) read_twice_ += reached - at_;
}

void Parser::end_of_doubt(std::size_t at) {
    if (doubt_from_ != std::string_view::npos) tree_.in_doubt.emplace_back(doubt_from_, at);
    doubt_from_ = std::string_view::npos;
}

bool Parser::looks_like_a_statement() {
    const std::size_t begin = at_;
    quiet_ = true;
    blanks();
    DottedKey name;
    bool is_one = false;
    if (take('[')) {
        const bool is_list = take('[');
        is_one = key(name, "") && take(']') && (!is_list || take(']'));
        blanks();
        is_one = is_one && (at_line_end() || peek() == '#');
    } else {
        is_one = key(name, "") && take('=');
    }
    quiet_ = false;
    at_ = begin;
    return is_one;
}

}  // namespace seatwright::toml
