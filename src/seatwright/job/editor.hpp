// Changes to a job's text that leave every other byte of it alone: comments, order, spacing stay the
// person's.
#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <utility>
#include <vector>

namespace seatwright::job {

// The changed text, or a sentence saying why the change cannot be made. Paths are dotted, entries of lists
// counted from 0: "seat.intake.width", "reading.touch[2].x", "fixture.tilt[0]". Literals are TOML values as
// written in a file: `0.06`, `"0.06 in"`, `[1, 2]`. The result has been read back and says exactly what was
// asked, and nothing else has changed. Linear in the text.
using Edited = tl::expected<std::string, std::string>;

// Replaces the value, or adds the key to its table, or adds the table.
Edited set_value(std::string_view text, std::string_view path, std::string_view literal);

// Adds one more table to a list of tables ("reading.touch"), as [[…]] at the end or as a further inline entry
// where the list is written inline.
using Fields = std::vector<std::pair<std::string, std::string>>;  // key, literal
Edited append_table(std::string_view text, std::string_view path, const Fields& fields);

// Removes a key with its value, a table with everything in it, or one entry of a list.
Edited remove_value(std::string_view text, std::string_view path);

}  // namespace seatwright::job
