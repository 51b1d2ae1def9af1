#include "seatwright/shape/rest.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/shape/worn.hpp"

namespace seatwright::shape {

double rest_on_face(const Section& edge, double outside, double width) {
    // Tangent of the facet from that point to the next, outward.
    const auto slope = [&](std::size_t from) {
        const Vec2 along = edge.points[from + 1] - edge.points[from];
        return along.y() / along.x();
    };
    const double face = slope(edge.face);
    const double further_out = outside / 2 - edge.contact_od / 2;
    const double further_in = edge.contact_id / 2 - (outside / 2 - width / std::hypot(1.0, face));
    double rest = 0;
    if (edge.face + 2 < edge.points.size())
        rest = std::max(rest, further_out * (face - slope(edge.face + 1)));
    if (edge.face > 0) rest = std::max(rest, further_in * (slope(edge.face - 1) - face));
    return rest;
}

std::optional<double> rest_of(const Section& edge, const Before& before) {
    if (const auto rest = highest_gap(edge, before.worn)) return rest;
    if (before.face_outside && before.face_width)
        return rest_on_face(edge, *before.face_outside, *before.face_width);
    return std::nullopt;
}

double lowest_of(const Section& edge) {
    double lowest = 0;
    for (const Vec2& p : edge.points) lowest = std::max(lowest, -p.y());
    return lowest;
}

bool is_new_ring(const std::vector<Vec2>& section) {
    return section.size() == 2 && section[0].y() == section[1].y();
}

bool section_off(const Section& section, const std::vector<Vec2>& worn) {
    const auto gap = nearest_to_face(section, worn);
    return !is_new_ring(worn) && gap && *gap > section_near;
}

}  // namespace seatwright::shape
