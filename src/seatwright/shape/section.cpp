#include "seatwright/shape/section.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"

namespace seatwright::shape {

namespace {

// Two face angles closer than this make contact over the whole face: 1 minute of arc over 2 mm is 0.6 µm,
// below what a lapped face shows.
constexpr double same_face_angle = rad(1.0 / 60);
// Facets whose tangents differ by less than this do not meet in an edge.
constexpr double least_edge = 1e-9;

ContactStart contact_start(const job::ValveForm& valve, double seat_angle) {
    if (!valve.face_angle || std::abs(*valve.face_angle - seat_angle) < same_face_angle)
        return ContactStart::whole_face;
    return *valve.face_angle < seat_angle ? ContactStart::outer_edge : ContactStart::inner_edge;
}

}  // namespace

std::vector<job::Facet> facets_of(const job::SeatForm& seat) {
    std::vector<job::Facet> facets(seat.throat.rbegin(), seat.throat.rend());
    facets.push_back({seat.angle, seat.width});
    facets.insert(facets.end(), seat.top.begin(), seat.top.end());
    return facets;
}

Section section_of(const std::vector<job::Facet>& facets, std::size_t face, double gauge) {
    require(face < facets.size(), "the face is one of the facets");
    const job::Facet f = facets[face];
    const Vec2 half(f.width * std::cos(f.angle) / 2, f.width * std::sin(f.angle) / 2);
    const Vec2 middle(gauge / 2, 0);
    Section section;
    section.gauge = gauge;
    section.contact_od = gauge + 2 * half.x();
    section.contact_id = gauge - 2 * half.x();
    section.face = face;
    std::vector<Vec2> inward{middle - half};
    for (std::size_t i = face; i-- > 0;)
        inward.push_back(inward.back() -
                         facets[i].width * Vec2(std::cos(facets[i].angle), std::sin(facets[i].angle)));
    section.points.assign(inward.rbegin(), inward.rend());
    section.points.emplace_back(middle + half);
    for (std::size_t i = face + 1; i < facets.size(); ++i)
        section.points.push_back(section.points.back() + facets[i].width * Vec2(std::cos(facets[i].angle),
                                                                                std::sin(facets[i].angle)));
    return section;
}

Section section_of(const job::ValveForm& valve, const job::SeatForm& seat) {
    const double contact_od =
        seat.contact_diameter ? *seat.contact_diameter : valve.head_diameter - 2 * seat.inset.value_or(0);
    const double contact_id = contact_od - 2 * seat.width * std::cos(seat.angle);
    Section section = section_of(facets_of(seat), seat.throat.size(), (contact_od + contact_id) / 2);
    section.contact_od = contact_od;
    section.contact_id = contact_id;
    section.contact = contact_start(valve, seat.angle);
    return section;
}

std::vector<Sensitivity> sensitivities(job::Kind kind, const job::SeatForm& seat) {
    std::vector<Sensitivity> out;
    const double face = std::tan(seat.angle);
    const auto add = [&](const job::Facet& facet, double edge, std::size_t place) {
        if (edge < least_edge) return;
        out.push_back({kind, facet.angle, 1 / (edge * std::cos(seat.angle)), place == 0});
    };
    for (std::size_t i = 0; i < seat.top.size(); ++i) add(seat.top[i], face - std::tan(seat.top[i].angle), i);
    for (std::size_t i = 0; i < seat.throat.size(); ++i)
        add(seat.throat[i], std::tan(seat.throat[i].angle) - face, i);
    return out;
}

}  // namespace seatwright::shape
