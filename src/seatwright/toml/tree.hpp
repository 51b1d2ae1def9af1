// How a document is kept: its text and, for each key, table and entry of a list, where it stands in it. For
// the parser that makes it and the document that shows it; everybody else reads document.hpp.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "seatwright/toml/blocks.hpp"
#include "seatwright/toml/bytes.hpp"
#include "seatwright/toml/fault.hpp"

namespace seatwright::toml {

using Id = std::uint32_t;
inline constexpr Id none = 0xFFFFFFFF;
inline constexpr Id root_id = 0;

// How a node is written. The last four are tables that may still get keys from elsewhere in the text.
enum class Form : std::uint8_t {
    nothing,  // could not be read
    text,
    integer,
    number,
    flag,
    moment,
    word_list,     // [1, 2]: entries without brackets, not kept as nodes
    list,          // […] with at least one entry in brackets
    inline_table,  // {…}
    table_list,    // all [[x]] of a name
    dotted,        // a table that is there because of a key a.b
    implied,       // … because of the header of a table in it
    headed,        // … by a header of its own, [a]; the root too
    element        // … by one [[a]]
};

// Twenty-four bytes for each key, table and entry of a list but those of word lists.
struct Node {
    std::uint32_t key =
        none;  // first byte of the dotted key it is written under; of a header's key for tables
    std::uint32_t begin = 0;  // first byte of the value, of the header, of the key of a dotted table
    std::uint32_t end = 0;    // byte after the value, after the header
    Id next = none;           // of the same container; the last one's is the first one
    Id last = none;           // last child
    Form form = Form::nothing;
    std::uint8_t part = 0;  // which part of the dotted key is its name, from 0
    std::uint16_t hash = 0;
};

struct Tree {
    Tree(std::string t, const Rules& r) : text(std::move(t)), rules(r), lines(text) {}
    Tree(const Tree&) = delete;
    Tree& operator=(const Tree&) = delete;

    std::string text;
    Rules rules;
    Lines lines;
    Blocks<Node> nodes;
    Blocks<Id> headers;         // in order of the text: the tables they open, which begin there
    std::vector<Wrong> faults;  // in order of the text
    std::size_t more_faults = 0;
    // Bytes from a bracket or long text that is not closed where it should be up to the next header: what
    // stands there may be meant for another table. In order of the text, apart.
    std::vector<std::pair<std::size_t, std::size_t>> in_doubt;

    Id first(Id container) const {
        const Id last = nodes[container].last;
        return last == none ? none : nodes[last].next;
    }
    void append(Id container, Id child);
};

// One part of a dotted key: its bytes with quotes, and whether it must be decoded to be compared.
struct KeyPart {
    std::uint32_t begin = 0, end = 0;
};

// The key part that begins at `at` in a text without faults there.
KeyPart key_part_at(std::string_view text, std::size_t at);
// The `part`-th part of the dotted key that begins at `at`.
KeyPart nth_key_part(std::string_view text, std::size_t at, std::size_t part);
// What a part says, decoded into `buffer` if it has escapes.
std::string_view name_of_part(std::string_view text, KeyPart part, std::string& buffer);

inline bool is_open_table(Form form) {
    return form == Form::dotted || form == Form::implied || form == Form::headed || form == Form::element;
}
inline bool is_table(Form form) {
    return form == Form::inline_table || is_open_table(form);
}
inline bool is_list(Form form) {
    return form == Form::word_list || form == Form::list || form == Form::table_list;
}

// The byte after blanks, line ends and comments.
std::size_t after_space(std::string_view text, std::size_t at);

}  // namespace seatwright::toml
