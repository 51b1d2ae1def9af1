// Where a form cutter comes to rest on an old seat: κ above where a valve of drawing form would (model.md,
// "Heights of a seat"), since the old face may be wider than the new form, or of another angle.
//
// Seat frame as shape.hpp, z = 0 at the old height; lengths mm, angles rad. Unknown κ, dirt and an old seat
// off the guide's axis make the rest too high, so that a touch errs to the shallow side.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/shape/before.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

// κ of an old face of `outside` diameter and `width` along its cone, of the same angle as the edge's, whose
// face it outreaches by Δo outside and Δi inside (in radius): max(Δo·(tan α − tan β), Δi·(tan γ − tan α)), β
// and γ the facets next to the face; a side that has no facet strikes nothing. An old face narrower on both
// sides lies on the new one: 0.
double rest_on_face(const Section& edge, double outside, double width);

// κ by section, else by the old face's two calliper readings, else none: not known. `edge`: what comes to
// rest, z = 0 at its gauge circle: the blade chosen, else the form as drawn.
std::optional<double> rest_of(const Section& edge, const Before& before);

// Whether a section is that of a new ring: its two top corners.
bool is_new_ring(const std::vector<Vec2>& section);

// Gauge plane down to the lowest point of the edge, > 0 where a throat facet goes below it.
double lowest_of(const Section& edge);

// A measured section whose face comes nowhere so near to the form at the old height is asked about: wrong
// zero or a wrong form.
inline constexpr double section_near = 0.05;
// A flat of two corners is a new ring: it has no face, and nothing is asked.
bool section_off(const Section& section, const std::vector<Vec2>& worn);

}  // namespace seatwright::shape
