// A seat in section: the new form as it will be cut, the worn surface over it, the valve on its seat and the
// ring it lies in; and the form alone, dimensioned for whoever makes the blade.
#pragma once

#include <optional>

#include "seatwright/base/units.hpp"
#include "seatwright/papers/page/svg.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::papers {

struct SectionStyle {
    double width = 130, height = 95;  // of the drawing, mm of paper
    LengthUnit unit = LengthUnit::mm;
};

// Radius to the right, towards the spindle upwards. The form is drawn sunk by the seat's depth, the worn
// surface where it was measured. Nothing but the title when the seat was not shaped.
Drawing draw_section(const job::Job& job, const shape::Seat& seat, const SectionStyle& style = {});

// The form to order for a kind of valve: its edge dimensioned facet by facet beside the axis. None without
// forms.
std::optional<Drawing> draw_form_to_order(const job::Job& job, job::Kind kind,
                                          const SectionStyle& style = {});

}  // namespace seatwright::papers
