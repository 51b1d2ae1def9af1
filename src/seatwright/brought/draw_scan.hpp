// A scan to be checked by eye: what was found over the points it was fitted to, square to the deck and in
// section along each guide, and what was expected and not found.
#pragma once

#include <string>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/papers/page/pdf.hpp"
#include "seatwright/papers/page/svg.hpp"
#include "seatwright/scan/shown.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::brought {

struct ScanView {
    double width = 186;  // of the drawing, mm of paper
    LengthUnit unit = LengthUnit::mm;
};

// Head frame, X to the right, +Y up. Points of the deck are faint dots, those on a feature darker ones; a
// guide is the circle of either end of what is seen of it, with its axis between. What was expected and is
// not found is rust-coloured, dashed and crossed out. Each valve is a group "scan-<id>", each hole likewise.
papers::Drawing draw_scan_plan(const scan::Scan& scan, const std::vector<scan::Shown>& points,
                               const ScanView& view = {});

// A valve cut along its guide, in the plane its axis leans in: walls, facets and the deck over the points
// that lie within a millimetre of the plane.
papers::Drawing draw_scan_section(const scan::Scan& scan, const std::vector<scan::Shown>& points,
                                  std::size_t valve, const ScanView& view = {});

// All of it as one drawing: the plan, under it a section for each valve.
papers::Drawing draw_scan(const scan::Scan& scan, const std::vector<scan::Shown>& points,
                          const ScanView& view = {});

// And as pages to print, with what is missing in words.
std::vector<std::string> scan_pages(const scan::Scan& scan, const std::vector<scan::Shown>& points,
                                    papers::PaperSize paper, const Speech& speech);

}  // namespace seatwright::brought
