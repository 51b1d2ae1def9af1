#include "seatwright/cut/form.hpp"

#include <algorithm>
#include <cmath>

namespace seatwright::cut {

namespace {
// Shorter than any edge a cutter can have; two points this close are one corner.
constexpr double least_facet_width = 1e-6;
}  // namespace

CutForm engaged_form(const shape::Section& section, double face_angle) {
    CutForm form;
    form.face_angle = face_angle;
    form.largest_diameter = section.contact_od;
    for (const Vec2& point : section.points)
        form.largest_diameter = std::max(form.largest_diameter, 2 * point.x());
    for (std::size_t i = 1; i < section.points.size(); ++i) {
        const Vec2 step = section.points[i] - section.points[i - 1];
        const double width = step.norm();
        if (width < least_facet_width) continue;
        const double mid_radius = 0.5 * (section.points[i].x() + section.points[i - 1].x());
        form.facets.push_back({std::atan2(std::abs(step.y()), std::abs(step.x())), width, mid_radius});
        form.total_width += width;
    }
    return form;
}

}  // namespace seatwright::cut
