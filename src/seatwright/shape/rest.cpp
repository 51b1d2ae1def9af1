#include "seatwright/shape/rest.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/shape/worn.hpp"

namespace seatwright::shape {

double rest_on_face(const job::SeatForm& form, const Section& section, double outside, double width) {
    const double face = std::tan(form.angle);
    const double further_out = outside / 2 - section.contact_od / 2;
    const double further_in = section.contact_id / 2 - (outside / 2 - width * std::cos(form.angle));
    double rest = 0;
    if (!form.top.empty()) rest = std::max(rest, further_out * (face - std::tan(form.top.front().angle)));
    if (!form.throat.empty())
        rest = std::max(rest, further_in * (std::tan(form.throat.front().angle) - face));
    return rest;
}

std::optional<double> rest_of(const job::SeatForm& form, const Section& section, const Section& edge,
                              const Before& before) {
    if (const auto rest = highest_gap(edge, before.worn)) return rest;
    if (before.face_outside && before.face_width)
        return rest_on_face(form, section, *before.face_outside, *before.face_width);
    return std::nullopt;
}

std::vector<Vec2> new_ring_section(const job::Insert& ring, double top) {
    return {Vec2(ring.inside / 2, top), Vec2(ring.outside / 2, top)};
}

double lowest_of(const Section& edge) {
    double lowest = 0;
    for (const Vec2& p : edge.points) lowest = std::max(lowest, -p.y());
    return lowest;
}

bool section_off(const Section& section, const std::vector<Vec2>& worn) {
    const bool ring = worn.size() == 2 && worn[0].y() == worn[1].y();
    const auto gap = nearest_to_face(section, worn);
    return !ring && gap && *gap > section_near;
}

}  // namespace seatwright::shape
