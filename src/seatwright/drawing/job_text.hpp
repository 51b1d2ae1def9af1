// The job file made of a drawing: what it shows with its uncertainty as a comment, and what it leaves open as
// figures that are made up (head.assumed) with the question beside them, so that hold stops at them.
#pragma once

#include <string>

#include "seatwright/drawing/drawing.hpp"

namespace seatwright::drawing {

// Reads without faults, in the drawing's unit.
std::string job_text(const Drawing& drawing);

}  // namespace seatwright::drawing
