#include "seatwright/toml/document.hpp"

#include <algorithm>
#include <atomic>

#include "seatwright/toml/parser.hpp"
#include "seatwright/toml/tree.hpp"

namespace seatwright::toml {
namespace {

std::atomic<std::size_t> parsed = 0;

// The names in a header without faults.
std::vector<std::string> names_in(std::string_view text, std::size_t begin, bool& of_list) {
    const auto after_blanks = [&](std::size_t at) { return text.find_first_not_of(" \t", at); };
    of_list = text[begin + 1] == '[';
    std::vector<std::string> out;
    std::string buffer;
    for (std::size_t at = begin + (of_list ? 2 : 1);;) {
        const KeyPart part = key_part_at(text, after_blanks(at));
        out.emplace_back(name_of_part(text, part, buffer));
        at = after_blanks(part.end);
        if (text[at++] != '.') return out;
    }
}

void gather(const Value& table, const Span& within, std::vector<Statement>& out, std::string_view text) {
    for (const auto& value : table.items()) {
        if (value.is_dotted()) gather(value, within, out, text);
        const std::size_t key = value.key_begin();
        const bool is_statement = value.kind() == Kind::nothing || value.in_brackets() ||
                                  (value.kind() != Kind::table && value.kind() != Kind::list);
        if (!is_statement || key < within.begin || key >= within.end) continue;
        std::string buffer;
        out.push_back(
            {{key, value.span().end}, std::string(name_of_part(text, key_part_at(text, key), buffer))});
    }
}

}  // namespace

Document Document::parse(std::string text, const Rules& rules) {
    ++parsed;
    auto tree = std::make_shared<Tree>(std::move(text), rules);
    Parser(*tree).run();
    Document out;
    out.tree_ = std::move(tree);
    return out;
}

std::size_t Document::parsed_so_far() {
    return parsed;
}

const std::string& Document::text() const {
    return tree_->text;
}

const Rules& Document::rules() const {
    return tree_->rules;
}

Value Document::root() const {
    return {tree_.get(), root_id};
}

const std::vector<Wrong>& Document::faults() const {
    return tree_->faults;
}

std::size_t Document::more_faults() const {
    return tree_->more_faults;
}

bool Document::in_doubt(int line) const {
    const auto& parts = tree_->in_doubt;
    return std::any_of(parts.begin(), parts.end(), [&](const auto& part) {
        const std::size_t last = std::min(part.second, tree_->text.size());
        return line >= tree_->lines.line_of(part.first) &&
               (part.second > last || line < tree_->lines.line_of(last));
    });
}

std::vector<Section> Document::sections() const {
    const Tree& tree = *tree_;
    const auto begin_of = [&](std::size_t header) {
        return header < tree.headers.size() ? tree.lines.begin(tree.nodes[tree.headers[header]].begin)
                                            : tree.text.size();
    };
    std::vector<Section> out;
    out.reserve(tree.headers.size() + 1);
    out.push_back({{0, begin_of(0)}, root(), {}, false});
    for (std::size_t i = 0; i < tree.headers.size(); ++i) {
        const Id table = tree.headers[i];
        Section section{{begin_of(i), begin_of(i + 1)}, {&tree, table}, {}, false};
        if (tree.nodes[table].key != none)
            section.path = names_in(tree.text, tree.nodes[table].begin, section.of_list);
        out.push_back(std::move(section));
    }
    return out;
}

std::vector<Statement> Document::statements(const Section& section) const {
    std::vector<Statement> out;
    gather(section.table, section.span, out, tree_->text);
    std::sort(out.begin(), out.end(),
              [](const Statement& a, const Statement& b) { return a.span.begin < b.span.begin; });
    return out;
}

Span Document::line_around(std::size_t byte) const {
    return {tree_->lines.begin(byte), tree_->lines.end(byte)};
}

Place Document::place_of(std::size_t byte) const {
    const std::size_t begin = tree_->lines.begin(byte);
    return {byte, tree_->lines.line_of(byte),
            1 + characters(std::string_view(tree_->text).substr(begin, byte - begin))};
}

std::string_view Document::newline() const {
    return tree_->text.find("\r\n") != std::string::npos ? "\r\n" : "\n";
}

}  // namespace seatwright::toml
