// Changes to a text that leave every other byte of it alone: comments, order, spacing stay the person's.
#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <utility>
#include <vector>

#include "seatwright/toml/document.hpp"

namespace seatwright::toml {

// The changed document, or a sentence saying why the change cannot be made. Paths as path.hpp reads them.
// Literals are TOML values as written in a file: `0.06`, `"0.06 in"`, `[1, 2]`. The document to change has no
// faults (else: a sentence with the first). The result has been read, by the same rules, and says exactly
// what was asked; nothing else has changed. Linear in the text, but for sorting the names of tables.
using Edited = tl::expected<Document, std::string>;

// Replaces the value, or adds the key to its table, or adds the table.
Edited set_value(const Document& document, std::string_view path, std::string_view literal);

// Adds one more table to a list of tables ("reading.touch"), as [[…]] at the end or as a further entry in
// braces where the list is written in brackets.
using Fields = std::vector<std::pair<std::string, std::string>>;  // name, literal
Edited append_table(const Document& document, std::string_view path, const Fields& fields);

// Removes a key with its value, a table with everything in it, or one entry of a list.
Edited remove_value(const Document& document, std::string_view path);

}  // namespace seatwright::toml
