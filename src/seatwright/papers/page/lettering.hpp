// How wide words come out in the sheets' typeface, so that tables fit and sentences wrap before they are
// drawn.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace seatwright::papers {

enum class Face { plain, bold };

// The smallest letters on paper, mm: 6.5 points, still read at arm's length.
inline constexpr double least_size = 2.3;

// Width in the unit of `size`, from the advance widths of DejaVu Sans (the typeface the sheets embed); a
// character outside ASCII counts as an average one. Within 1 % of what the PDF shows.
double words_width(std::string_view words, double size, Face face = Face::plain);

// Lines no wider than `width`; a single longer word stands alone on its line.
std::vector<std::string> wrapped_lines(std::string_view words, double width, double size,
                                       Face face = Face::plain);

// The words, or as many of their characters as fit with a final "…".
std::string fitted(std::string_view words, double width, double size, Face face = Face::plain);

}  // namespace seatwright::papers
