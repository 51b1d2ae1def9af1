// The valves of a head: names, places, leans, seats, and those that are expected and not seen.
#include <algorithm>
#include <cmath>

#include "seatwright/drawing/told.hpp"
#include "seatwright/scan/head.hpp"

namespace seatwright::scan {
namespace {

// From the first cylinder on, in each along X, of two at one place across the lower first: a name each.
struct Named {
    std::vector<drawing::Valve> valves;
    std::vector<std::size_t> marks;
};

Named named(const Plan& plan, const Frame& frame, Head& head) {
    const auto kinds = drawing::kinds_of(plan.marks, frame.layout(), plan.groups);
    const auto& at = frame.marks();
    Named out;
    int cylinder = 0;
    for (const auto& c : frame.layout().cylinders) {
        auto order = c.valves;
        std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
            constexpr double tie = 0.5;
            return std::abs(at[a].x() - at[b].x()) > tie ? at[a].x() < at[b].x() : at[a].y() < at[b].y();
        });
        ++cylinder;
        for (const auto m : order) {
            drawing::Valve v;
            v.cylinder = cylinder;
            v.kind = plan.seats_seen ? kinds.of.at(m) : std::nullopt;
            head.kinds_known = head.kinds_known && v.kind.has_value();
            v.x = {at[m].x(), 0};
            v.y = {at[m].y(), 0};
            out.valves.push_back(v);
            out.marks.push_back(m);
        }
    }
    drawing::name_valves(out.valves);
    return out;
}

NotSeen not_seen(const Plan& plan, const Frame& frame, std::size_t mark, const drawing::Valve& named) {
    NotSeen out;
    out.id = named.id;
    out.at = frame.marks()[mark];
    out.expected = mark >= plan.known;
    if (!out.expected) {
        const auto* b = plan.sorted.short_guides[mark - plan.sorted.guides.size()];
        out.length = b->length();
        out.arc = b->arc;
        out.wall = frame.of(b->fit.cylinder);
    }
    return out;
}

void take_seat(const FoundSeat& s, Valve& v) {
    const Facet& face = s.seat.seat_face();
    v.gauge = {2 * s.gauge, 2 * s.u_gauge};
    v.seat_angle = {face.angle, std::sqrt(s.covariance[s.seat.face](1, 1))};
    v.off_guide = face.off.norm();
    v.face_in_doubt = s.seat.in_doubt;
    for (std::size_t k = 0; k < s.seat.facets.size(); ++k) {
        const auto& f = s.seat.facets[k];
        const bool is_face = k == s.seat.face;
        FacetFound out;
        out.angle = f.angle;
        out.u_angle = std::sqrt(s.covariance[k](1, 1));
        const double inner = is_face ? s.edges[0] : f.inner, outer = is_face ? s.edges[1] : f.outer;
        out.inner = 2 * inner;
        out.outer = 2 * outer;
        out.inner_height = f.height_at(inner);
        out.outer_height = f.height_at(outer);
        out.face = is_face;
        v.facets.push_back(out);
    }
}

Valve valve(const FoundBore& b, double along, const drawing::Valve& named, const Frame& frame) {
    Valve v;
    v.id = named.id;
    v.cylinder = named.cylinder;
    v.kind = named.kind;
    const Vec3 p = frame.at(on_axis(b, along));
    v.x.value = p.x();
    v.y.value = p.y();
    if (b.seat) v.z.value = p.z();
    v.z_taken = p.z();
    const Lean lean = lean_of(b, frame);
    v.incline = lean.incline;
    v.cant = lean.cant;
    v.bore = {2 * b.fit.cylinder.radius, 2 * std::sqrt(b.covariance(4, 4))};
    v.wall = frame.of(b.fit.cylinder);
    v.pin = b.pin;
    v.length = b.length();
    v.arc = b.arc;
    v.points = b.fit.count;
    v.sd = b.fit.sd;
    if (b.seat) take_seat(*b.seat, v);
    return v;
}

}  // namespace

Lean lean_of(const FoundBore& b, const Frame& frame) {
    const Vec3 axis = frame.way(b.fit.cylinder.axis);
    const Vec3 du = frame.way(b.fit.frame.u), dv = frame.way(b.fit.frame.v);
    const auto u_of = [&](int k) {
        // d atan2(a_k, a_z) = (a_z·da_k − a_k·da_z)/(a_k² + a_z²).
        const double size = axis[k] * axis[k] + axis.z() * axis.z();
        const Vec2 j((axis.z() * du[k] - axis[k] * du.z()) / size,
                     (axis.z() * dv[k] - axis[k] * dv.z()) / size);
        return std::sqrt(std::max(0.0, j.dot(b.covariance.block<2, 2>(2, 2) * j)));
    };
    return {{std::atan2(axis.y(), axis.z()), u_of(1)}, {std::atan2(axis.x(), axis.z()), u_of(0)}};
}

void make_valves(const Plan& plan, Frame& frame, Scan& out, Head& head) {
    if (frame.layout().cylinders.empty()) return;
    const Named all = named(plan, frame, head);
    for (std::size_t i = 0; i < all.marks.size(); ++i) {
        const auto m = all.marks[i];
        if (m >= plan.sorted.guides.size()) {
            out.not_seen.push_back(not_seen(plan, frame, m, all.valves[i]));
            continue;
        }
        const FoundBore& b = *plan.sorted.guides[m];
        const double along = plan.along_of(b);
        frame.stand_on(static_cast<std::size_t>(all.valves[i].cylinder - 1), frame.own_covariance(b, along));
        out.valves.push_back(valve(b, along, all.valves[i], frame));
    }
    for (std::size_t i = 0; i < out.valves.size(); ++i) {
        auto& v = out.valves[i];
        v.covariance = frame.covariance(Vec2(*v.x.value, *v.y.value), i);
        v.x.u = std::sqrt(v.covariance(0, 0));
        v.y.u = std::sqrt(v.covariance(1, 1));
        v.z.u = std::sqrt(v.covariance(2, 2));
    }
}

}  // namespace seatwright::scan
