#include "seatwright/shape/solids.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>

namespace seatwright::shape {

namespace {

constexpr int most_steps = 200;
constexpr double near_enough = 1e-8;  // mm, between the distance found and its lower bound
constexpr double touching = 1e-9;     // mm

// The point of the solid furthest along d.
Vec3 furthest(const Frustum& f, const Vec3& d) {
    const double along = d.dot(f.axis);
    const Vec3 across = d - f.axis * along;
    const double aside = across.norm();
    const bool far_end = along * f.length + aside * (f.end_radius - f.base_radius) > 0;
    const double radius = far_end ? f.end_radius : f.base_radius;
    Vec3 point = far_end ? f.end() : f.base;
    if (aside > 0) point += across * (radius / aside);
    return point;
}

// Up to four points of the difference a − b; the origin's nearest point of their hull is sought.
struct Simplex {
    std::array<Vec3, 4> at;
    int count = 0;
    void add(const Vec3& p) { at[static_cast<std::size_t>(count++)] = p; }
};

struct Closest {
    Vec3 point = Vec3::Zero();
    Simplex face;  // the least part of the simplex that holds the point
};

Closest closest_on_segment(const Vec3& a, const Vec3& b) {
    const Vec3 ab = b - a;
    const double square = ab.squaredNorm(), t = -a.dot(ab);
    Closest out;
    if (t <= 0 || square <= 0) {
        out.point = a;
        out.face.add(a);
    } else if (t >= square) {
        out.point = b;
        out.face.add(b);
    } else {
        out.point = a + ab * (t / square);
        out.face.add(a);
        out.face.add(b);
    }
    return out;
}

const Closest& nearer(const Closest& a, const Closest& b) {
    return b.point.squaredNorm() < a.point.squaredNorm() ? b : a;
}

Closest closest_on_triangle(const Vec3& a, const Vec3& b, const Vec3& c) {
    const Vec3 normal = (b - a).cross(c - a);
    const double square = normal.squaredNorm();
    // Inside where the origin lies on the inner side of all three edges.
    const bool inside = square > 0 && (b - a).cross(normal).dot(a) >= 0 &&
                        (c - b).cross(normal).dot(b) >= 0 && (a - c).cross(normal).dot(c) >= 0;
    if (inside) {
        Closest out;
        out.point = normal * (a.dot(normal) / square);
        out.face.add(a);
        out.face.add(b);
        out.face.add(c);
        return out;
    }
    return nearer(nearer(closest_on_segment(a, b), closest_on_segment(b, c)), closest_on_segment(c, a));
}

// The origin lies on the same side of the plane a, b, c as d.
bool on_side_of(const Vec3& a, const Vec3& b, const Vec3& c, const Vec3& d) {
    const Vec3 normal = (b - a).cross(c - a);
    const double to_d = normal.dot(d - a), to_origin = -normal.dot(a);
    return to_d > 0 ? to_origin > 0 : to_d < 0 && to_origin < 0;
}

Closest closest_on(const Simplex& s) {
    const auto& p = s.at;
    switch (s.count) {
        case 1:
            return {p[0], s};
        case 2:
            return closest_on_segment(p[0], p[1]);
        case 3:
            return closest_on_triangle(p[0], p[1], p[2]);
        default:
            break;
    }
    if (on_side_of(p[0], p[1], p[2], p[3]) && on_side_of(p[0], p[1], p[3], p[2]) &&
        on_side_of(p[0], p[2], p[3], p[1]) && on_side_of(p[1], p[2], p[3], p[0]))
        return {Vec3::Zero(), s};
    return nearer(nearer(closest_on_triangle(p[0], p[1], p[2]), closest_on_triangle(p[0], p[1], p[3])),
                  nearer(closest_on_triangle(p[0], p[2], p[3]), closest_on_triangle(p[1], p[2], p[3])));
}

Frustum axis_of(const Frustum& f) {
    return {f.base, f.axis, f.length, 0, 0};
}

}  // namespace

double axes_apart(const Frustum& a, const Frustum& b) {
    // Least of |a.base + s·u − b.base − t·v| over 0 ≤ s ≤ la, 0 ≤ t ≤ lb: for the s of the endless lines the
    // nearest t, kept within its piece, and the nearest s to that.
    const Vec3 between = a.base - b.base;
    const double uv = a.axis.dot(b.axis), u = a.axis.dot(between), v = b.axis.dot(between);
    const double slant = 1 - uv * uv;
    const auto on_a = [&](double t) { return std::clamp(uv * t - u, 0.0, a.length); };
    double s = slant > 1e-12 ? std::clamp((uv * v - u) / slant, 0.0, a.length) : on_a(0);
    const double t = std::clamp(uv * s + v, 0.0, b.length);
    s = on_a(t);
    return (between + a.axis * s - b.axis * t).norm();
}

double distance_bound(const Frustum& a, const Frustum& b) {
    return axes_apart(a, b) - a.most_radius() - b.most_radius();
}

double solid_distance(const Frustum& a, const Frustum& b) {
    const Vec3 middle = (a.base + a.end() - b.base - b.end()) / 2;
    Vec3 nearest = furthest(a, -middle) - furthest(b, middle);
    Simplex simplex;
    simplex.add(nearest);
    for (int step = 0; step < most_steps; ++step) {
        const double apart = nearest.norm();
        if (apart < touching) return 0;
        const Vec3 more = furthest(a, -nearest) - furthest(b, nearest);
        // nearest·more / apart is a lower bound of the distance.
        if (apart - nearest.dot(more) / apart < near_enough) return apart;
        simplex.add(more);
        const Closest closest = closest_on(simplex);
        if (closest.face.count == 4) return 0;
        // Rounding may stand in the way of the last digits: what was found before is then the answer.
        if (closest.point.squaredNorm() >= nearest.squaredNorm()) return apart;
        nearest = closest.point;
        simplex = closest.face;
    }
    return nearest.norm();
}

double wall(const Frustum& a, const Frustum& b) {
    const double apart = solid_distance(a, b);
    if (apart > near_enough) return apart;
    const double from_axis = solid_distance(a, axis_of(b));
    const double deep = from_axis > near_enough ? 0 : std::max(0.0, a.least_radius() - axes_apart(a, b));
    return from_axis - b.most_radius() - deep;
}

}  // namespace seatwright::shape
