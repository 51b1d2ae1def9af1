#include <algorithm>

#include "seatwright/toml/document.hpp"
#include "seatwright/toml/strings.hpp"
#include "seatwright/toml/tree.hpp"

namespace seatwright::toml {
namespace {

Kind kind_of(Form form) {
    switch (form) {
        case Form::nothing:
            return Kind::nothing;
        case Form::text:
            return Kind::text;
        case Form::integer:
            return Kind::integer;
        case Form::number:
            return Kind::number;
        case Form::flag:
            return Kind::flag;
        case Form::moment:
            return Kind::moment;
        default:
            return is_list(form) ? Kind::list : Kind::table;
    }
}

// Of a word without faults.
Kind kind_of_written(std::string_view word) {
    if (word.front() == '"' || word.front() == '\'') return Kind::text;
    switch (kind_of_word(word)) {
        case Word::flag:
            return Kind::flag;
        case Word::integer:
            return Kind::integer;
        case Word::number:
            return Kind::number;
        case Word::moment:
            return Kind::moment;
        default:
            return Kind::nothing;
    }
}

std::size_t end_of_all_below(const Tree& tree, Id id) {
    const Node& node = tree.nodes[id];
    std::size_t end = node.end;
    if ((!is_open_table(node.form) && node.form != Form::table_list) || node.last == none) return end;
    for (Id child = tree.first(id);; child = tree.nodes[child].next) {
        end = std::max(end, end_of_all_below(tree, child));
        if (child == node.last) return end;
    }
}

}  // namespace

Value Value::word_at(const Tree* tree, std::size_t begin) {
    Value out;
    out.tree_ = tree;
    const char c = tree->text[begin];
    const std::size_t end = c == '"' || c == '\''
                                ? quoted_end(tree->text, begin, [](std::size_t at) { return at + 2; })
                                : word_end(tree->text, begin);
    out.word_ = {begin, end};
    return out;
}

std::string_view Value::written() const {
    const Span s = span();
    return std::string_view(tree_->text).substr(s.begin, s.end - s.begin);
}

Kind Value::kind() const {
    if (tree_ == nullptr) return Kind::absent;
    return node_ == no_node ? kind_of_written(written()) : kind_of(tree_->nodes[node_].form);
}

std::optional<std::string> Value::text() const {
    if (kind() != Kind::text) return std::nullopt;
    return unquoted(written());
}

std::optional<std::int64_t> Value::integer() const {
    if (kind() != Kind::integer) return std::nullopt;
    return integer_of(written());
}

std::optional<double> Value::number() const {
    const Kind k = kind();
    if (k == Kind::integer) return static_cast<double>(integer_of(written()));
    if (k != Kind::number) return std::nullopt;
    return number_of(written());
}

std::optional<bool> Value::flag() const {
    if (kind() != Kind::flag) return std::nullopt;
    return written() == "true";
}

std::optional<Moment> Value::moment() const {
    if (kind() != Kind::moment) return std::nullopt;
    return moment_of(written());
}

Items Value::items() const {
    return Items(*this);
}

std::size_t Value::size() const {
    std::size_t count = 0;
    for (const auto& item : items()) count += item.tree_ != nullptr ? 1 : 0;
    return count;
}

Value Value::find(std::string_view wanted) const {
    if (kind() != Kind::table) return {};
    std::string buffer;
    for (const auto& item : items()) {
        const Node& node = tree_->nodes[item.node_];
        const KeyPart part = nth_key_part(tree_->text, node.key, node.part);
        if (name_of_part(tree_->text, part, buffer) == wanted) return item;
    }
    return {};
}

Value Value::at(std::size_t index) const {
    if (kind() != Kind::list) return {};
    for (const auto& item : items())
        if (index-- == 0) return item;
    return {};
}

std::string Value::name() const {
    if (node_ == no_node) return "";
    const Node& node = tree_->nodes[node_];
    if (node.key == none || node.form == Form::element) return "";
    std::string buffer;
    return std::string(name_of_part(tree_->text, nth_key_part(tree_->text, node.key, node.part), buffer));
}

Span Value::span() const {
    if (node_ == no_node) return word_;
    const Node& node = tree_->nodes[node_];
    return {node.begin, node.end};
}

std::size_t Value::key_begin() const {
    if (node_ == no_node || tree_->nodes[node_].key == none) return span().begin;
    return tree_->nodes[node_].key;
}

std::size_t Value::end_of_all() const {
    return node_ == no_node ? word_.end : end_of_all_below(*tree_, node_);
}

int Value::line() const {
    return tree_ == nullptr ? 0 : tree_->lines.line_of(span().begin);
}

int Value::key_line() const {
    return tree_ == nullptr ? 0 : tree_->lines.line_of(key_begin());
}

bool Value::has_header() const {
    if (node_ == no_node) return false;
    const Form form = tree_->nodes[node_].form;
    return form == Form::headed || form == Form::element;
}

bool Value::in_brackets() const {
    if (node_ == no_node) return false;
    const Form form = tree_->nodes[node_].form;
    return form == Form::word_list || form == Form::list || form == Form::inline_table;
}

bool Value::is_dotted() const {
    return node_ != no_node && tree_->nodes[node_].form == Form::dotted;
}

Items::Iterator Items::begin() const {
    Iterator out;
    const Tree* tree = of_.tree_;
    if (tree == nullptr || of_.node_ == none) return out;
    const Node& node = tree->nodes[of_.node_];
    out.now_ = Value(tree, of_.node_);
    if (node.form == Form::word_list) {
        out.go_to_word(node.begin + 1);
    } else if ((is_list(node.form) || is_table(node.form)) && node.last != none) {
        out.left_ = true;
        out.last_ = node.last;
        out.now_.node_ = tree->first(of_.node_);
    }
    return out;
}

Items::Iterator& Items::Iterator::operator++() {
    if (now_.node_ == none) {
        std::size_t at = after_space(now_.tree_->text, now_.word_.end);
        if (now_.tree_->text[at] == ',') ++at;
        go_to_word(at);
    } else if (now_.node_ == last_) {
        left_ = false;
    } else {
        now_.node_ = now_.tree_->nodes[now_.node_].next;
    }
    return *this;
}

// The list has no faults: here is an entry, or the bracket that closes it.
void Items::Iterator::go_to_word(std::size_t at) {
    at = after_space(now_.tree_->text, at);
    left_ = now_.tree_->text[at] != ']';
    if (left_) now_ = Value::word_at(now_.tree_, at);
}

}  // namespace seatwright::toml
