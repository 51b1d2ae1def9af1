// What commands print to standard output.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "seatwright/report/table.hpp"

namespace seatwright::cli {

// A stream that takes nothing is main's matter: it asks once at the end.
void say(const std::string& text);
// Indented; bytes that are not UTF-8 are replaced.
void say_json(const nlohmann::ordered_json& json);
// Colour where standard output is a terminal that wants it.
report::TableStyle table_style();

}  // namespace seatwright::cli
