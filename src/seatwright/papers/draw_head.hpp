// The head seen square to its deck, to scale: seats numbered, bolt holes, posts with their spacing.
#pragma once

#include "seatwright/base/units.hpp"
#include "seatwright/hold/hold.hpp"
#include "seatwright/papers/svg.hpp"

namespace seatwright::papers {

struct HeadView {
    double width = 186;  // mm of paper
    double height = 90;  // at most; the drawing is no higher than it needs
    LengthUnit unit = LengthUnit::mm;
};

// Plan view in the head frame, X to the right, +Y (back) up. Exhaust seats have a double ring; the stroke
// outside a ring shows which way its guide leans; with several setups each seat carries its setup's letter.
// The casting's outline is implied from bolt holes and seats and drawn dashed. Each seat is a group with the
// id "plan-<valve>".
Drawing draw_head_plan(const job::Job& job, const hold::Hold& hold, const HeadView& view);

// Rectangle (head frame, mm) that stands for the casting where no outline is known: bolt holes, seats and
// bores with a wall round them.
struct Casting {
    Vec2 low = Vec2::Zero(), high = Vec2::Zero();
    double thickness = 0;  // deck to the far side, enough for the guides
};
Casting implied_casting(const job::Head& head, const job::PerKind<std::optional<job::ValveForm>>& valve,
                        const job::PerKind<std::optional<job::GuideForm>>& guide);

// Radius a seat is drawn with: half its valve's head diameter, else its contact diameter, else 15 mm.
double drawn_radius(const job::Job& job, job::Kind kind);

}  // namespace seatwright::papers
