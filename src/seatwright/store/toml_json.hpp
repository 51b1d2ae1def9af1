// TOML as JSON, as written: for the fields of a page and for the values of an imported reading.
#pragma once

#include <toml++/toml.h>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

namespace seatwright::store {

using Json = nlohmann::ordered_json;

// Keys in alphabetical order (TOML tables have none of their own). Dates and times become their text;
// infinities and NaN, which the reader refuses anyway, become null.
Json json_of(const toml::node& node);

// JSON as a TOML literal on one line: numbers as the shortest text that reads back the same, objects as
// inline tables. Null inside becomes an empty text, since TOML has none.
std::string toml_literal(const Json& value);

// The text as a tree; nothing if it is not TOML, or if the guard (job/guard.hpp: nesting, keys of many parts)
// keeps it from the parser. Cost: one parse.
std::optional<toml::table> parse_toml(const std::string& text);

}  // namespace seatwright::store
