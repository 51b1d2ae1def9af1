// Where keys and tables of a text hang, and which of them cannot be there beside what was given before (TOML
// 1.0: keys, tables, arrays of tables). For the parser.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <unordered_map>
#include <vector>

#include "seatwright/toml/tree.hpp"

namespace seatwright::toml {

// A dotted key as it stands in the text.
struct DottedKey {
    std::array<KeyPart, max_key_parts> parts{};
    std::uint8_t count = 0;
    std::uint32_t begin() const { return parts[0].begin; }
};

// What a key or a header is to be put at, or why it cannot be: a sentence. Then the node hangs nowhere, so
// that what follows can still be read.
struct Put {
    Id node = none;
    std::string wrong;
};

class Builder {
  public:
    explicit Builder(Tree& tree);

    // A node without a value for this key of this table.
    Put key(Id table, const DottedKey& key);
    // The table that a header opens; `begin` and `end` are the header's bytes.
    Put table(const DottedKey& key, std::uint32_t begin, std::uint32_t end);
    Put table_of_list(const DottedKey& key, std::uint32_t begin, std::uint32_t end);
    // A table that hangs nowhere.
    Id lost_table(std::uint32_t begin);
    // One more entry of a list.
    Id entry(Id list);

  private:
    // The children of a large table by their names: open addressing, a power of two of slots.
    struct Index {
        std::vector<Id> slots;
        std::size_t used = 0;
    };
    struct Name {
        std::string_view text;
        std::size_t hash;
    };

    Name name_of(KeyPart part, std::string& buffer) const;
    std::size_t hash_of(std::string_view name) const;
    bool is_named(Id node, const Name& name) const;
    Id find(Id table, const Name& name);
    Id find_in(const Index& index, const Name& name) const;
    void fill(Index& index, Id node) const;
    void grow(Id table, Index& index) const;
    Id add(Id table, const DottedKey& key, std::uint8_t part, const Name& name, Form form);
    Id holder_of(const DottedKey& key, std::uint32_t begin, std::string& wrong);
    std::string said(const DottedKey& key, std::size_t count) const;
    int line(Id node) const { return tree_.lines.line_of(tree_.nodes[node].begin); }
    std::string given_before(const DottedKey& key, std::size_t count, Id before) const;

    Tree& tree_;
    std::size_t seed_;
    std::unordered_map<Id, Index> large_;
};

}  // namespace seatwright::toml
