// A short mark that ties a printed paper to the record it was made from.
#pragma once

#include <string>

namespace seatwright::papers {

// SHA-256 (FIPS 180-4) of the bytes, 64 hexadecimal digits: what `sha256sum` prints of the file.
std::string sha256(const std::string& bytes);

// Its first 16 digits in groups of four: "1a2b 3c4d 5e6f 7081".
std::string short_mark(const std::string& bytes);

}  // namespace seatwright::papers
