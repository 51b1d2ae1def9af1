// TOML as JSON, as written: for the fields of a page and for the values of an imported reading.
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "seatwright/toml/document.hpp"

namespace seatwright::store {

using Json = nlohmann::ordered_json;

// Keys in alphabetical order (TOML tables have none of their own). Dates and times become their text;
// infinities and NaN, which the reader refuses anyway, and what could not be read become null.
Json json_of(const toml::Value& value);

// The tables of a job or shop file; an empty object if its text is at fault. Cost: one reading.
Json tables_of(const std::string& text);

// JSON as a TOML literal on one line: numbers as the shortest text that reads back the same, objects as
// inline tables. Null inside becomes an empty text, since TOML has none.
std::string toml_literal(const Json& value);

}  // namespace seatwright::store
