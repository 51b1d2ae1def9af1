// A text as bytes: whether it is plain text at all, and which line a byte stands in.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace seatwright::toml {

// Length of the UTF-8 sequence at `at`, 0 if it is not one (RFC 3629: no overlong forms, no surrogates).
std::size_t sequence_length(std::string_view text, std::size_t at);

// Characters of a piece of text: its bytes but those that continue one.
int characters(std::string_view text);

// What is wrong with the first bad byte of a line: not UTF-8, or a control other than tab, line feed, and
// carriage return before one.
struct BadByte {
    std::size_t at = 0;
    int line = 0;  // from 1
    std::string text;
};

// The bad bytes of a text in order, one a line; of those beyond the first `most` only the number.
struct BadBytes {
    std::vector<BadByte> first;
    std::size_t more = 0;
};
BadBytes bad_bytes(std::string_view text, std::size_t most);

// Lines of a text, found without keeping where each begins. Cost: 4 bytes for 256 of the text, which must
// outlive it.
class Lines {
  public:
    explicit Lines(std::string_view text);
    // From 1. Cost: up to 256 bytes are read.
    int line_of(std::size_t at) const;
    // First byte of the line, and the byte after its line end.
    std::size_t begin(std::size_t at) const;
    std::size_t end(std::size_t at) const;

  private:
    static constexpr std::size_t stride = 256;
    std::string_view text_;
    std::vector<std::uint32_t> before_;  // line feeds before each stride
};

}  // namespace seatwright::toml
