// The setup sheet: one to three pages to tape to the machine. How to hold the head, where each guide is, what
// section and depth each seat gets, at what speed, and what to look at before the first cut.
#pragma once

#include <string>
#include <vector>

#include "seatwright/papers/pdf.hpp"
#include "seatwright/plan/plan.hpp"

namespace seatwright::papers {

struct SheetOptions {
    PaperSize paper = a4;
    LengthUnit unit = LengthUnit::mm;
};

// SVG pages in order, each the size of the paper. Tables that do not fit go on over the page with their
// heading repeated; nothing is left out. Deterministic.
std::vector<std::string> setup_sheet(const job::Job& job, const plan::Plan& plan,
                                     const SheetOptions& options);

}  // namespace seatwright::papers
