// The head seen square to its deck, to scale: seats numbered, bolt holes, posts with their spacing.
#pragma once

#include "seatwright/base/units.hpp"
#include "seatwright/hold/hold.hpp"
#include "seatwright/papers/page/svg.hpp"

namespace seatwright::papers {

// On screen the head is one row at any scale; in print a head too long to be lettered in one row is parted
// into strips between cylinders, and where seats are too close even so only the cylinders are numbered.
enum class Medium { screen, print };

struct HeadView {
    double width = 186;  // mm of paper
    double height = 90;  // at most; the drawing is no higher than it needs
    LengthUnit unit = LengthUnit::mm;
    Medium medium = Medium::screen;
};

// Plan view in the head frame, X to the right, +Y (back) up. Exhaust seats have a double ring; the stroke
// outside a ring shows which way its guide leans; with several setups each seat carries its setup's letter.
// The casting's outline is implied from bolt holes and seats and drawn dashed. Each seat is a group with the
// id "plan-<valve>".
Drawing draw_head_plan(const job::Job& job, const hold::Hold& hold, const HeadView& view);

}  // namespace seatwright::papers
