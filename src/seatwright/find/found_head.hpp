#pragma once

#include <string>

#include "seatwright/find/find.hpp"

namespace seatwright::find {

// Null: it is not among them. No head is there twice, and the one in hand is among the last.
const FoundHead* found_head(const Find& find, const std::string& head);

}  // namespace seatwright::find
