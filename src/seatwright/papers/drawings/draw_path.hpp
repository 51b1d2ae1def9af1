// The way of the tool in one setup, from above and from the front, as the program makes it.
#pragma once

#include "seatwright/cut/cut.hpp"
#include "seatwright/papers/page/svg.hpp"

namespace seatwright::papers {

struct PathSize {
    double width = 180, plan_height = 60, elevation_height = 70;  // mm of paper
};

// Above: X to the right, Y up, readout coordinates, seats numbered in the order they are cut. Below: X and Z
// with the clear height; the height is drawn to its own scale.
// `route`: cut::whole_setup of the setup of that id; it has a stop.
Drawing draw_path(const job::Job& job, const std::string& setup, const cut::Route& route, LengthUnit unit,
                  PathSize size = {});

}  // namespace seatwright::papers
