#include "seatwright/toml/tree.hpp"

#include <algorithm>

#include "seatwright/toml/strings.hpp"
#include "seatwright/toml/words.hpp"

namespace seatwright::toml {
namespace {

std::size_t after_blanks(std::string_view text, std::size_t at) {
    while (at < text.size() && (text[at] == ' ' || text[at] == '\t')) ++at;
    return at;
}

}  // namespace

void Tree::append(Id container, Id child) {
    Node& holder = nodes[container];
    Node& node = nodes[child];
    if (holder.last == none) {
        node.next = child;
    } else {
        Node& last = nodes[holder.last];
        node.next = last.next;
        last.next = child;
    }
    holder.last = child;
}

KeyPart key_part_at(std::string_view text, std::size_t at) {
    std::size_t end = at;
    if (text[at] == '"' || text[at] == '\'') {
        end = quoted_end(text, at, [](std::size_t i) { return i + 2; });
    } else {
        while (end < text.size() && is_key_letter(text[end])) ++end;
    }
    return {static_cast<std::uint32_t>(at), static_cast<std::uint32_t>(end)};
}

KeyPart nth_key_part(std::string_view text, std::size_t at, std::size_t part) {
    KeyPart out = key_part_at(text, at);
    for (; part > 0; --part) {
        const std::size_t dot = after_blanks(text, out.end);
        out = key_part_at(text, after_blanks(text, dot + 1));
    }
    return out;
}

std::string_view name_of_part(std::string_view text, KeyPart part, std::string& buffer) {
    const auto whole = text.substr(part.begin, part.end - part.begin);
    if (whole.front() != '"' && whole.front() != '\'') return whole;
    if (whole.front() == '"' && whole.find('\\') != std::string_view::npos) return buffer = unquoted(whole);
    return whole.substr(1, whole.size() - 2);
}

std::size_t after_space(std::string_view text, std::size_t at) {
    while (at < text.size()) {
        const char c = text[at];
        if (c == '#')
            at = std::min(text.find('\n', at), text.size());
        else if (c != ' ' && c != '\t' && c != '\n' && c != '\r')
            break;
        else
            ++at;
    }
    return at;
}

}  // namespace seatwright::toml
