// Plan view of a setup in readout coordinates: every guide with its uncertainty inside the circle its pilot
// must enter.
#pragma once

#include "seatwright/find/find.hpp"
#include "seatwright/papers/page/svg.hpp"

namespace seatwright::papers {

// Guides lie to one scale; the entry circle (radius (mouth − tip)/2 about the programmed point) and the
// ellipse that holds the true guide with 95 % are both drawn larger, by a factor that is stated. Touched,
// not touched, suspect and next to touch are different shapes, and said in words. `width` in mm of paper;
// the height follows. Each guide is a group with its valve id as data-name.
Drawing draw_find(const job::Job& job, const find::FoundSetup& setup, double width = 180);

}  // namespace seatwright::papers
