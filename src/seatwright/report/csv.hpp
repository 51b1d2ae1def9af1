// One cell of a table of values for others to read.
#pragma once

#include <string>

namespace seatwright::report {

// Quoted where RFC 4180 asks for it. A text that a spreadsheet would run as a formula gets an apostrophe in
// front; a figure stays one, its sign too.
std::string csv_cell(std::string words);

}  // namespace seatwright::report
