// Entries of a job as TOML again, with what stood behind their figures as comments.
#pragma once

#include <string>
#include <vector>

#include "seatwright/job/key_tree.hpp"
#include "seatwright/job/value.hpp"

namespace seatwright::casting {

// Checked entries and the lines of the text they were read from.
struct Entries {
    const job::Value* table = nullptr;  // null: none
    const std::vector<std::string>* lines = nullptr;
};

// The table at `path` ("head"), what `first` says and, key by key, what only `second` says; its tables behind
// it. Bare numbers in `units`. `node`: of that table in the tree of keys. Empty if neither has anything.
std::string table_text(const std::string& path, const Entries& first, const Entries& second,
                       const job::KeyNode& node, LengthUnit units);

std::vector<std::string> lines_of(const std::string& text);

}  // namespace seatwright::casting
