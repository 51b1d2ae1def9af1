// How points come out of bytes, whatever the file: records of one size, or lines.
#pragma once

#include <array>
#include <cstddef>
#include <cstring>
#include <optional>
#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "seatwright/scan/cloud.hpp"
#include "seatwright/scan/parts.hpp"

namespace seatwright::scan {

// Beyond it a coordinate is no place on a head in any unit.
inline constexpr double beyond = 1e7;

enum class Number { int8, uint8, int16, uint16, int32, uint32, float32, float64 };
std::size_t size_of(Number number);
double number_at(const char* at, Number number, bool big_end);

// One point of every record.
struct Records {
    const char* first = nullptr;  // of the first record
    std::size_t count = 0, stride = 0;
    std::array<std::size_t, 3> offset{};  // of x, y, z in a record
    std::array<Number, 3> number{Number::float32, Number::float32, Number::float32};
    bool big_end = false;
};

// Every record's point, or those of several sets of records of one count, one set after the other.
Cloud gather(const std::vector<Records>& sets, const Watch& watch);

// One point of every line that has numbers in these columns.
struct Lines {
    std::string_view text;
    std::string_view before;  // a word that lines with a point begin with; others are passed over
    std::array<std::size_t, 3> column{0, 1, 2};
    bool every = false;  // each line that is not empty and no comment must have a point
};

// Error: the line that has none, in a sentence.
tl::expected<Cloud, std::string> gather(const Lines& lines, const Watch& watch);

// Corners named again are taken out.
void without_repeats(Cloud& cloud, const Watch& watch);

}  // namespace seatwright::scan
