#include "seatwright/shape/bridge.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <boost/math/tools/minima.hpp>
#include <cmath>
#include <limits>

namespace seatwright::shape {

namespace {

// The distance from a point of one circle to another has at most four minima over the turn (its stationary
// points are roots of a polynomial of degree eight); 64 samples part them but for near-ties, where either
// minimum gives the same distance.
constexpr int samples = 64;
// Brent's method doubles its correct digits fast; 26 bits of the angle is full precision of the distance.
constexpr int angle_bits = 26;
constexpr std::uintmax_t most_refinements = 60;

struct Frame {
    Vec3 u, v;
};
Frame frame_of(const Vec3& normal) {
    const Vec3 aside = std::abs(normal.z()) < 0.9 ? Vec3::UnitZ() : Vec3::UnitX();
    const Vec3 u = aside.cross(normal).normalized();
    return {u, normal.cross(u)};
}

Vec3 at(const Circle& c, const Frame& f, double turn) {
    return c.centre + c.radius * (std::cos(turn) * f.u + std::sin(turn) * f.v);
}

// Distance of p from the axis of c, and its height above c's plane.
struct Seen {
    double radial, axial;
};
Seen seen_from(const Circle& c, const Vec3& p) {
    const Vec3 w = p - c.centre;
    const double axial = w.dot(c.normal);
    return {(w - axial * c.normal).norm(), axial};
}

// Least value of f over the turn, every local minimum of the samples refined.
template <class F>
double least_over_turn(F f) {
    std::array<double, samples> value{};
    const double step = 2 * pi / samples;
    for (int i = 0; i < samples; ++i) value[static_cast<std::size_t>(i)] = f(i * step);
    const auto sample = [&](int i) { return value[static_cast<std::size_t>((i + samples) % samples)]; };
    const double lowest = *std::min_element(value.begin(), value.end());
    double least = lowest;
    for (int i = 0; i < samples; ++i) {
        if (sample(i) > sample(i - 1) || sample(i) > sample(i + 1)) continue;
        std::uintmax_t count = most_refinements;
        const auto found =
            boost::math::tools::brent_find_minima(f, (i - 1) * step, (i + 1) * step, angle_bits, count);
        least = std::min(least, found.second);
    }
    return least;
}

}  // namespace

double circle_distance(const Circle& a, const Circle& b) {
    const Frame f = frame_of(a.normal);
    return least_over_turn([&](double turn) {
        const Seen s = seen_from(b, at(a, f, turn));
        return std::hypot(s.radial - b.radius, s.axial);
    });
}

double room_in_sweep(const Circle& a, const Circle& b) {
    const Frame f = frame_of(b.normal);
    constexpr double out_of_reach = std::numeric_limits<double>::max();
    double least = out_of_reach;
    for (int i = 0; i < samples; ++i) {
        const Seen s = seen_from(a, at(b, f, i * 2 * pi / samples));
        if (s.axial >= 0) least = std::min(least, s.radial - a.radius);
    }
    if (least == out_of_reach || least > a.radius + b.radius) return least;
    return least_over_turn([&](double turn) {
        const Seen s = seen_from(a, at(b, f, turn));
        return s.axial >= 0 ? s.radial - a.radius : least;
    });
}

double bridge_between(const Circle& a, const Circle& b) {
    const double overlap = std::min(room_in_sweep(a, b), room_in_sweep(b, a));
    return overlap < 0 ? overlap : circle_distance(a, b);
}

std::optional<Nearest> nearest(const Circle& seat, const std::vector<Neighbour>& neighbours) {
    std::optional<Nearest> best;
    for (const auto& n : neighbours) {
        const double apart = (n.circle.centre - seat.centre).norm() - n.circle.radius - seat.radius;
        if (best && n.side == Neighbour::Side::beside && apart >= best->bridge) continue;
        double bridge = 0;
        if (n.side == Neighbour::Side::beside) {
            bridge = bridge_between(seat, n.circle);
        } else {
            // Enclosed: the overlap is what sticks out through the wall that rises from the edge.
            const Frame f = frame_of(seat.normal);
            const double inside = least_over_turn(
                [&](double turn) { return n.circle.radius - seen_from(n.circle, at(seat, f, turn)).radial; });
            bridge = inside < 0 ? inside : circle_distance(seat, n.circle);
        }
        if (!best || bridge < best->bridge) best = Nearest{bridge, n.name};
    }
    return best;
}

Circle circle_of(const job::Valve& valve, const Vec2& point, double depth) {
    const Vec3 axis = valve.axis();
    return {valve.seat + axis * (point.y() - depth), axis, point.x()};
}

std::vector<Neighbour> obstacles_of(const job::Head& head, const job::Valve& valve) {
    std::vector<Neighbour> out;
    for (const auto& o : head.obstacles)
        out.push_back({o.name, {o.centre, Vec3::UnitZ(), o.diameter / 2}, Neighbour::Side::beside});
    if (head.bore_diameter && head.bore_spacing) {
        const double along = (valve.cylinder - 1) * *head.bore_spacing;
        const Vec3 centre(head.mirror == job::Mirror::x ? -along : along, 0, 0);
        out.push_back({"bore", {centre, Vec3::UnitZ(), *head.bore_diameter / 2}, Neighbour::Side::around});
    }
    return out;
}

}  // namespace seatwright::shape
