// The sheet: pages to tape to the machine. How to hold the head and what must be right before the first cut;
// the work card, a block for each cutter with its seats in cutting order; and last, on pages that may stay
// off the machine, the sections, every figure of the map, warnings and assumptions.
#pragma once

#include <string>
#include <vector>

#include "seatwright/papers/page/pdf.hpp"
#include "seatwright/plan/plan.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::papers {

struct SheetOptions {
    PaperSize paper = a4;
    LengthUnit unit = LengthUnit::mm;
    std::string record{};  // in the foot of each page; may be empty
    std::string order{};   // BundleOptions::order, under the title; may be empty
    const words::Catalogue* catalogue = &words::english();
    Speech speech() const { return {unit, catalogue}; }
};

// SVG pages in order, each the size of the paper. Tables that do not fit go on over the page with their
// heading repeated; nothing is left out. Deterministic.
std::vector<std::string> setup_sheet(const job::Job& job, const plan::Plan& plan,
                                     const SheetOptions& options);

}  // namespace seatwright::papers
