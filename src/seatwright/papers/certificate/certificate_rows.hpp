// The lines of a certificate's tables: cells at places of their own, so that a verdict's mark can stand by
// one.
#pragma once

#include <string>
#include <vector>

#include "seatwright/papers/page/pages.hpp"

namespace seatwright::papers {

struct Column {
    double x = 0;  // mm from the left margin; for Anchor::end the right edge
    Anchor anchor = Anchor::start;
};

// On a page with room for two rows under it.
void row_of_heads(Pages& paper, const std::vector<Column>& columns, const std::vector<std::string>& cells);
// On the next page if this one is full; paper.y() is then its line.
void row_of_cells(Pages& paper, const std::vector<Column>& columns, const std::vector<std::string>& cells);
// A drawing in the middle of the page's width, and on under it; `with` mm stand free above.
void in_the_middle(Pages& paper, const Drawing& drawing, double above = 0);

// What is only looked up.
inline const SentenceStyle small_print{Ink::faint, "", true};

}  // namespace seatwright::papers
