// What of a seat's section the blades engage: each facet's angle, width along the cone and mid radius.
//
// Lengths mm, angles rad from the plane square to the guide axis.
#pragma once

#include <vector>

#include "seatwright/shape/shape.hpp"

namespace seatwright::cut {

struct EngagedFacet {
    double angle = 0;
    double width = 0;  // along the cone
    double mid_radius = 0;
};

// The form as it is cut. Every facet of the section is engaged over its full width, as at the end of the
// feed.
struct CutForm {
    std::vector<EngagedFacet> facets;  // inside to outside
    double total_width = 0;            // sum of the facets' widths
    double largest_diameter = 0;
    double face_angle = 0;  // of the sealing facet, whose chip thickness is the one reported
};

// Error-free: a section with fewer than two points gives a form without facets.
CutForm engaged_form(const shape::Section& section, double face_angle);

}  // namespace seatwright::cut
