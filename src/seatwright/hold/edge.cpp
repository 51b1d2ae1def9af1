#include "seatwright/hold/edge.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/units.hpp"

namespace seatwright::hold {

double Wave::slope(double t) const {
    return b * std::cos(t) - a * std::sin(t);
}

Attitude Edge::at(double t) const {
    return free == Free::tilt ? Attitude{t, fixed} : Attitude{fixed, t};
}

Wave Edge::wave(const Vec3& axis) const {
    const double cosine = std::cos(fixed), sine = std::sin(fixed);
    if (free == Free::tilt) return {axis.z() * cosine - axis.x() * sine, axis.y(), 0};
    return {axis.z() * cosine, -axis.x() * cosine, axis.y() * sine};
}

std::vector<Edge> edges_of(const Reach& reach) {
    std::vector<Edge> edges{{Edge::Free::tilt, reach.swing.low, reach.tilt}};
    if (reach.swing.high > reach.swing.low) edges.push_back({Edge::Free::tilt, reach.swing.high, reach.tilt});
    if (reach.swing.high > reach.swing.low) {
        edges.push_back({Edge::Free::swing, reach.tilt.low, reach.swing});
        if (reach.tilt.high > reach.tilt.low)
            edges.push_back({Edge::Free::swing, reach.tilt.high, reach.swing});
    }
    return edges;
}

std::vector<Attitude> corners_of(const Reach& reach) {
    std::vector<Attitude> corners;
    for (const double tilt : {reach.tilt.low, reach.tilt.high})
        for (const double swing : {reach.swing.low, reach.swing.high}) {
            const auto same = [&](const Attitude& c) { return c.tilt == tilt && c.swing == swing; };
            if (std::none_of(corners.begin(), corners.end(), same)) corners.push_back({tilt, swing});
        }
    return corners;
}

double foot(const Wave& wave) {
    return std::atan2(wave.b, wave.a);
}

std::vector<double> crossings(const Wave& one, const Wave& other) {
    const double a = one.a - other.a, b = one.b - other.b, c = other.c - one.c;
    const double size = std::hypot(a, b);
    if (!(size > 0) || std::abs(c) > size) return {};
    const double middle = std::atan2(b, a), half = std::acos(std::clamp(c / size, -1.0, 1.0));
    const auto wrapped = [](double t) { return std::remainder(t, 2 * pi); };
    return {wrapped(middle + half), wrapped(middle - half)};
}

}  // namespace seatwright::hold
