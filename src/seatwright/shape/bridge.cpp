#include "seatwright/shape/bridge.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <limits>
#include <utility>

namespace seatwright::shape {

namespace {

// The distance from a point of one circle to another has at most four minima over the turn (its stationary
// points are roots of a polynomial of degree eight); 64 samples part them but for near-ties, where either
// minimum gives the same distance.
constexpr std::size_t samples = 64;
// Brent's method doubles its correct digits fast; 26 bits of the angle is full precision of the distance.
constexpr int angle_bits = 26;
constexpr std::uintmax_t most_refinements = 60;
constexpr double no_room_limit = std::numeric_limits<double>::max();

const std::array<Vec2, samples>& turns() {
    static const std::array<Vec2, samples> table = [] {
        std::array<Vec2, samples> out;
        for (std::size_t i = 0; i < samples; ++i) {
            const double t = 2 * pi * double(i) / samples;
            out[i] = Vec2(std::cos(t), std::sin(t));
        }
        return out;
    }();
    return table;
}

// A point of circle b as its turn goes round, seen from circle a: height above a's plane and distance from
// a's axis, both from three numbers apiece. With w = point − centre of a: axial = w·n_a and |w|² are each k0
// + k1·cos + k2·sin; radial² = |w|² − axial².
class Seen {
  public:
    Seen(const Circle& a, const Circle& b) {
        const Vec3 aside = std::abs(b.normal.z()) < 0.9 ? Vec3::UnitZ() : Vec3::UnitX();
        const Vec3 u = aside.cross(b.normal).normalized() * b.radius;
        const Vec3 v = b.normal.cross(u);
        const Vec3 w = b.centre - a.centre;
        axial_ = {w.dot(a.normal), u.dot(a.normal), v.dot(a.normal)};
        square_ = {w.squaredNorm() + b.radius * b.radius, 2 * w.dot(u), 2 * w.dot(v)};
    }
    double axial(const Vec2& cs) const { return axial_.x() + axial_.y() * cs.x() + axial_.z() * cs.y(); }
    double radial(const Vec2& cs) const {
        const double height = axial(cs);
        return std::sqrt(
            std::max(0.0, square_.x() + square_.y() * cs.x() + square_.z() * cs.y() - height * height));
    }

  private:
    Vec3 axial_, square_;
};

// Least value of f(cos, sin) over the turn: every local minimum of the samples that could be the least is
// refined.
template <class F>
double least_over_turn(F f) {
    std::array<double, samples> value{};
    for (std::size_t i = 0; i < samples; ++i) value[i] = f(turns()[i]);
    const double step = 2 * pi / samples;
    double least = *std::min_element(value.begin(), value.end());
    for (std::size_t i = 0; i < samples; ++i) {
        if (value[i] > value[(i + samples - 1) % samples] || value[i] > value[(i + 1) % samples]) continue;
        std::uintmax_t count = most_refinements;
        const auto at_turn = [&](double t) { return f(Vec2(std::cos(t), std::sin(t))); };
        least =
            std::min(least, boost::math::tools::brent_find_minima(at_turn, (double(i) - 1) * step,
                                                                  (double(i) + 1) * step, angle_bits, count)
                                .second);
    }
    return least;
}

}  // namespace

double circle_distance(const Circle& a, const Circle& b) {
    const Seen seen(b, a);
    const double square = least_over_turn([&](const Vec2& cs) {
        const double beside = seen.radial(cs) - b.radius, above = seen.axial(cs);
        return beside * beside + above * above;
    });
    return std::sqrt(square);
}

double room_in_sweep(const Circle& a, const Circle& b) {
    const Seen seen(a, b);
    double least = no_room_limit;
    for (const auto& cs : turns())
        if (seen.axial(cs) >= 0) least = std::min(least, seen.radial(cs) - a.radius);
    // Between two samples the distance from the axis changes by less than half a step of arc.
    if (least > b.radius * pi / samples) return least;
    return least_over_turn(
        [&](const Vec2& cs) { return seen.axial(cs) >= 0 ? seen.radial(cs) - a.radius : least; });
}

double room_inside(const Circle& edge, const Circle& seat) {
    const Seen seen(edge, seat);
    const double inside = least_over_turn([&](const Vec2& cs) { return edge.radius - seen.radial(cs); });
    return inside < 0 ? inside : circle_distance(seat, edge);
}

double bridge_between(const Circle& a, const Circle& b) {
    const double overlap = std::min(room_in_sweep(a, b), room_in_sweep(b, a));
    return overlap < 0 ? overlap : circle_distance(a, b);
}

namespace {

// What may still be nearer than `best` is looked at closer; most is not.
void wall_if_nearer(const Frustum& a, const Frustum& b, double& best) {
    if (distance_bound(a, b) < best) best = std::min(best, wall(a, b));
}

double to_bore(const SeatSolids& seat, const Frustum& bore, double best) {
    for (const auto& piece : seat.swept) wall_if_nearer(piece, bore, best);
    return best;
}

double to_seat(const SeatSolids& seat, const SeatSolids& other, double best) {
    const double apart = (other.edge.centre - seat.edge.centre).norm() - other.edge.radius - seat.edge.radius;
    if (apart < best) best = std::min(best, bridge_between(seat.edge, other.edge));
    if (other.ring)
        for (const auto& piece : seat.swept) wall_if_nearer(piece, *other.ring, best);
    return best;
}

double ring_to_seat(const Frustum& ring, const SeatSolids& other, double best) {
    for (const auto& piece : other.swept) wall_if_nearer(piece, ring, best);
    if (other.ring && distance_bound(ring, *other.ring) < best)
        best = std::min({best, wall(ring, *other.ring), wall(*other.ring, ring)});
    return best;
}

// Takes `bridge` where it is less than what is there.
void take_nearest(std::optional<Nearest>& best, double bridge, const std::string& to, bool by_ring) {
    if (bridge < no_room_limit && (!best || bridge < best->bridge)) best = Nearest{bridge, to, by_ring};
}

double so_far(const std::optional<Nearest>& best) {
    return best ? best->bridge : no_room_limit;
}

// The neighbours from the nearest out, by what needs no search: most are then never looked at closer.
std::vector<const Neighbour*> from_nearest(const Vec3& centre, const std::vector<Neighbour>& neighbours,
                                           const std::string& self) {
    std::vector<std::pair<double, const Neighbour*>> order;
    const Frustum point{centre, Vec3::UnitZ(), 0, 0, 0};
    for (const auto& n : neighbours) {
        if (n.what == Neighbour::What::seat && n.name == self) continue;
        const double apart = n.what == Neighbour::What::bore
                                 ? distance_bound(point, n.solids.swept.front())
                                 : (n.solids.edge.centre - centre).norm() - n.solids.edge.radius;
        order.emplace_back(apart, &n);
    }
    std::stable_sort(order.begin(), order.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<const Neighbour*> out;
    out.reserve(order.size());
    for (const auto& entry : order) out.push_back(entry.second);
    return out;
}

// Longer than any head is high, mm: a bore that runs through the casting.
constexpr double through = 1000;

}  // namespace

std::optional<Nearest> nearest(const SeatSolids& seat, const std::vector<Neighbour>& neighbours,
                               const std::string& self) {
    std::optional<Nearest> best;
    for (const Neighbour* entry : from_nearest(seat.edge.centre, neighbours, self)) {
        const Neighbour& n = *entry;
        switch (n.what) {
            case Neighbour::What::edge:
                take_nearest(best, room_inside(n.solids.edge, seat.edge), n.name, false);
                break;
            case Neighbour::What::bore:
                take_nearest(best, to_bore(seat, n.solids.swept.front(), so_far(best)), n.name, false);
                if (seat.ring) {
                    double ring = so_far(best);
                    wall_if_nearer(*seat.ring, n.solids.swept.front(), ring);
                    take_nearest(best, ring, n.name, true);
                }
                break;
            case Neighbour::What::seat:
                take_nearest(best, to_seat(seat, n.solids, so_far(best)), n.name, false);
                if (seat.ring)
                    take_nearest(best, ring_to_seat(*seat.ring, n.solids, so_far(best)), n.name, true);
                break;
        }
    }
    return best;
}

std::optional<Nearest> nearest_to_body(const Frustum& body, const std::vector<Neighbour>& neighbours,
                                       const std::string& self) {
    const Circle circle{body.base, body.axis, body.base_radius};
    const double lowest = body.base.z() - body.base_radius * std::hypot(body.axis.x(), body.axis.y());
    std::optional<Nearest> best;
    for (const Neighbour* entry : from_nearest(circle.centre, neighbours, self)) {
        const Neighbour& n = *entry;
        double near = so_far(best);
        switch (n.what) {
            case Neighbour::What::edge:
                if (lowest < 0) near = room_inside(n.solids.edge, circle);
                break;
            case Neighbour::What::bore:
                wall_if_nearer(body, n.solids.swept.front(), near);
                break;
            case Neighbour::What::seat:
                if (const double room = room_in_sweep(circle, n.solids.edge); room < 0)
                    near = std::min(near, room);
                else
                    near = std::min(near, circle_distance(circle, n.solids.edge));
                if (n.solids.ring) wall_if_nearer(body, *n.solids.ring, near);
                break;
        }
        take_nearest(best, near, n.name, false);
    }
    return best;
}

Circle circle_of(const job::Valve& valve, const Vec2& point, double depth) {
    const Vec3 axis = valve.axis();
    return {valve.seat + axis * (point.y() - depth), axis, point.x()};
}

Frustum rising_from(const job::Valve& valve, double z, double radius) {
    const Vec3 axis = valve.axis();
    const Vec3 base = valve.seat + axis * z;
    // Its lowest side is radius·sin lean lower than its middle.
    const double height = (radius * std::hypot(axis.x(), axis.y()) - base.z()) / axis.z();
    return {base, axis, std::max(0.0, height), radius, radius};
}

SeatSolids solids_of(const job::Valve& valve, const Section& section, double depth,
                     const std::optional<Frustum>& ring) {
    SeatSolids out;
    const auto& points = section.points;
    out.edge = circle_of(valve, points.back(), depth);
    out.swept.push_back(rising_from(valve, points.back().y() - depth, points.back().x()));
    for (std::size_t i = points.size() - 1; i > 0; --i) {
        const Circle below = circle_of(valve, points[i - 1], depth);
        out.swept.push_back({below.centre, below.normal, points[i].y() - points[i - 1].y(),
                             std::max(0.0, below.radius), std::max(0.0, points[i].x())});
    }
    out.ring = ring;
    return out;
}

std::optional<Frustum> ring_of(const job::Valve& valve, const job::SeatForm& form, const Section& drawn) {
    if (!form.insert) return std::nullopt;
    const Circle top = circle_of(valve, drawn.points.back(), form.insert->depth);
    return Frustum{top.centre, top.normal, form.insert->depth, form.insert->outside / 2,
                   form.insert->outside / 2};
}

Frustum solid_of(const job::Obstacle& obstacle) {
    return {obstacle.centre, -obstacle.axis(), obstacle.length.value_or(through), obstacle.diameter / 2,
            obstacle.diameter / 2};
}

std::vector<Neighbour> bores_of(const job::Head& head) {
    std::vector<Neighbour> out;
    for (const auto& o : head.obstacles)
        out.push_back({Neighbour::What::bore, o.name, {{}, {solid_of(o)}, std::nullopt}});
    return out;
}

std::optional<Neighbour> bore_edge_of(const job::Head& head, const job::Valve& valve) {
    if (!head.bore_diameter || !head.bore_spacing) return std::nullopt;
    const double along = (valve.cylinder - 1) * *head.bore_spacing;
    const Vec3 centre(head.mirror == job::Mirror::x ? -along : along, 0, 0);
    return Neighbour{
        Neighbour::What::edge, "bore", {{centre, Vec3::UnitZ(), *head.bore_diameter / 2}, {}, std::nullopt}};
}

}  // namespace seatwright::shape
