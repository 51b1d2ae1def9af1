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

std::optional<Nearest> nearest(const Circle& seat, const std::vector<Neighbour>& neighbours,
                               const std::string& self) {
    // Nearest by a bound that needs no search first: most are then never searched.
    std::vector<std::pair<double, const Neighbour*>> order;
    for (const auto& n : neighbours) {
        if (n.name == self) continue;
        const double apart = n.side == Neighbour::Side::around
                                 ? -no_room_limit
                                 : (n.circle.centre - seat.centre).norm() - n.circle.radius - seat.radius;
        order.emplace_back(apart, &n);
    }
    std::stable_sort(order.begin(), order.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    std::optional<Nearest> best;
    for (const auto& [apart, n] : order) {
        if (best && apart >= best->bridge) break;
        const double bridge = n->side == Neighbour::Side::around ? room_inside(n->circle, seat)
                                                                 : bridge_between(seat, n->circle);
        if (!best || bridge < best->bridge) best = Nearest{bridge, n->name};
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
