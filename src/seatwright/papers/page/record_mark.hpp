// A short mark that ties a printed paper to the record it was made from.
#pragma once

#include <string>

namespace seatwright::papers {

// The first 16 digits of the bytes' SHA-256 in groups of four: "1a2b 3c4d 5e6f 7081".
std::string short_mark(const std::string& bytes);

}  // namespace seatwright::papers
