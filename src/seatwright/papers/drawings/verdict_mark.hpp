// A verdict as a shape, so that it reads without colour: pass a ticked circle, fail a crossed square,
// undecided a diamond with a question mark, not measured an empty dashed circle.
#pragma once

#include "seatwright/papers/page/svg.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::papers {

// Draws the mark about `centre`, `radius` mm of paper.
void verdict_mark(Drawing& drawing, Vec2 centre, double radius, prove::Verdict verdict);

// Rust for what needs attention, graphite else.
Ink verdict_ink(prove::Verdict verdict);

}  // namespace seatwright::papers
