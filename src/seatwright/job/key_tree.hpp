// The table of keys as a tree, and the key a misspelt one was meant to be.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/job/keys.hpp"

namespace seatwright::job {

// A key and the keys below it; a list and its entries are one node.
struct KeyNode {
    std::string_view name{};  // "*" stands for intake and exhaust
    const Key* key = nullptr;
    std::vector<KeyNode> children{};
    std::span<const Key> table{};  // all keys of its tree

    // The node of that name, null if there is none.
    const KeyNode* child(std::string_view wanted) const;
};

const KeyNode& key_tree();

// The tree of another table of keys (survey readings); the keys must outlive it.
KeyNode tree_of(std::span<const Key> keys);

// The key of the table for a place in a file ("seat.intake.top[0].angle", "fixture[1].plumb_limit"), null if
// the table has none. Names that stand for themselves (machine.float.free) come before kinds.
const Key* key_at(std::string_view place);

// What to say of a key that is not below this node: what was meant, where it belongs, or what there is.
std::string unknown_key(std::string_view name, const KeyNode& node);

// The candidate nearest in spelling, if one is near enough to be meant (letters added, dropped, changed or
// swapped up to a third of the longer word, at least 1); empty otherwise.
std::string nearest_name(std::string_view word, const std::vector<std::string_view>& candidates);

}  // namespace seatwright::job
