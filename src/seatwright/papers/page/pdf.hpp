// SVG pages to one PDF, by librsvg and Cairo; text stays text, fonts are embedded.
#pragma once

#include <string>
#include <vector>

#include "seatwright/base/fault.hpp"

namespace seatwright::papers {

struct PaperSize {
    double width_mm = 210, height_mm = 297;
};
inline constexpr PaperSize a4{210, 297};
inline constexpr PaperSize letter{215.9, 279.4};

// One SVG document a page, each drawn to fill the paper. Deterministic: the same pages give the same bytes.
// Error: a sentence (no font, broken SVG).
tl::expected<std::string, std::string> pdf_of(const std::vector<std::string>& svg_pages, PaperSize paper,
                                              const std::string& title);

}  // namespace seatwright::papers
