// A TOML text cut into statements by its lines, so that whole statements can be taken out and every other
// byte stays as it was. Knows strings (all four kinds), comments and brackets; the text must already have
// been read without a fault.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace seatwright::store {

enum class LineKind {
    header,     // [table] or [[array of tables]]
    statement,  // key = value, and the lines it goes on over
    other       // blank or comment
};

struct TomlLine {
    std::string_view text;  // with its line end
    LineKind kind = LineKind::other;
    bool continued = false;  // goes on from the line before
    std::string section;     // first segment of the table header it stands under; empty before the first
    std::string first_key;   // statement: first segment of its key
};

std::vector<TomlLine> toml_lines(std::string_view text);

}  // namespace seatwright::store
