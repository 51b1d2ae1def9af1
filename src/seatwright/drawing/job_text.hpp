// The job file made of a drawing: what it shows with its uncertainty as a comment, and what it leaves open as
// figures that are made up (head.assumed) with the question beside them, so that hold stops at them.
#pragma once

#include <string>

#include "seatwright/drawing/drawing.hpp"

namespace seatwright::drawing {

// Of the shop it goes to: where a fixture is named, none is made up.
struct Beside {
    std::string shop, fixture;
};

// Reads without faults (with that shop), in the drawing's unit.
std::string job_text(const Drawing& drawing, const Beside& beside = {});

}  // namespace seatwright::drawing
