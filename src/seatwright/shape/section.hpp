// The section a seat is given, and how its width answers to the depth of each facet.
//
// Seat frame as shape.hpp: r from the guide axis, z = 0 at the gauge circle, z up towards the spindle;
// lengths mm, angles rad from the plane square to the guide axis.
#pragma once

#include "seatwright/shape/shape.hpp"

namespace seatwright::shape {

// D_o = head diameter − 2·inset (or the contact diameter given), D_i = D_o − 2·w·cos α, D_g their mean; each
// top facet (β, w) goes on outward by ΔD = 2·w·cos β, Δz = +w·sin β, each throat facet inward and down.
Section section_of(const job::ValveForm& valve, const job::SeatForm& seat);

// Section of a blade whose facets are `facets` (inside to outside), facet `face` being the seat face, set to
// that gauge diameter.
Section section_of(const std::vector<job::Facet>& facets, std::size_t face, double gauge);

// The facets of a form, inside to outside, the seat face among them at index seat.throat.size().
std::vector<job::Facet> facets_of(const job::SeatForm& seat);

// What deepening one facet alone by d takes off the width of the face: top d/((tan α − tan β)·cos α), throat
// d/((tan γ − tan α)·cos α). Facets further off do so only once they have reached the face.
std::vector<Sensitivity> sensitivities(job::Kind kind, const job::SeatForm& seat);

}  // namespace seatwright::shape
