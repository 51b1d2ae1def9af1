#include "seatwright/shape/worn.hpp"

#include <algorithm>
#include <cmath>

namespace seatwright::shape {

namespace {

// Uncut patches thinner than this in height are rounding, not surface: 1 nm.
constexpr double least_step = 1e-6;
// Ends of a measured profile this close to the ends of a face cover it: 1 nm.
constexpr double same_radius = 1e-6;

double on_line(const Vec2& a, const Vec2& b, double r) {
    return a.y() + (b.y() - a.y()) * (r - a.x()) / (b.x() - a.x());
}

// Stretch a..b of r on which both surfaces are straight; gap = z_old − z_new at its ends.
struct Stretch {
    double a, b;
    double gap_a, gap_b;
};

// Every stretch the two polylines share between `from` and `to`, ascending. Steps (no width) are left out.
std::vector<Stretch> stretches(const std::vector<Vec2>& fresh, const std::vector<Vec2>& old, double from,
                               double to) {
    std::vector<Stretch> out;
    for (std::size_t i = 0; i + 1 < old.size(); ++i) {
        if (!(old[i].x() < old[i + 1].x())) continue;
        for (std::size_t j = 0; j + 1 < fresh.size(); ++j) {
            const double a = std::max({old[i].x(), fresh[j].x(), from});
            const double b = std::min({old[i + 1].x(), fresh[j + 1].x(), to});
            if (!(a < b)) continue;
            out.push_back({a, b, on_line(old[i], old[i + 1], a) - on_line(fresh[j], fresh[j + 1], a),
                           on_line(old[i], old[i + 1], b) - on_line(fresh[j], fresh[j + 1], b)});
        }
    }
    return out;
}

// ∫ r·g dr of g straight from ga at a to gb at b.
double moment(double a, double b, double ga, double gb) {
    return (b - a) / 6 * (ga * (2 * a + b) + gb * (a + 2 * b));
}

bool covers(const std::vector<Vec2>& worn, double from, double to) {
    return !worn.empty() && worn.front().x() <= from + same_radius && worn.back().x() >= to - same_radius;
}

}  // namespace

std::vector<Vec2> worn_profile(std::vector<Vec2> points) {
    std::sort(points.begin(), points.end(),
              [](const Vec2& a, const Vec2& b) { return a.x() != b.x() ? a.x() < b.x() : a.y() < b.y(); });
    return points;
}

std::optional<Cleanup> cleanup_of(const Section& section, const std::vector<Vec2>& worn) {
    const double inner = section.points[section.face].x(), outer = section.points[section.face + 1].x();
    std::optional<Cleanup> deepest;
    const auto look = [&](double r, double gap) {
        if (!deepest || -gap > deepest->depth) deepest = Cleanup{-gap, r, covers(worn, inner, outer)};
    };
    for (const auto& s : stretches(section.points, worn, inner, outer)) {
        look(s.a, s.gap_a);
        look(s.b, s.gap_b);
    }
    // The foot of a step at the very end of the profile belongs to no stretch.
    const Vec2 in = section.points[section.face], out = section.points[section.face + 1];
    if (deepest)
        for (const auto& p : worn)
            if (inner <= p.x() && p.x() <= outer) look(p.x(), p.y() - on_line(in, out, p.x()));
    return deepest;
}

std::optional<Removal> removal_of(const Section& section, const std::vector<Vec2>& worn, double depth) {
    const double from = section.points.front().x(), to = section.points.back().x();
    const auto parts = stretches(section.points, worn, from, to);
    if (parts.empty()) return std::nullopt;
    double sum = 0;
    for (const auto& s : parts) {
        const double ga = s.gap_a + depth, gb = s.gap_b + depth;
        if (ga >= 0 && gb >= 0) {
            sum += moment(s.a, s.b, ga, gb);
        } else if (ga > 0 || gb > 0) {
            const double zero = s.a + (s.b - s.a) * ga / (ga - gb);
            sum += ga > 0 ? moment(s.a, zero, ga, 0) : moment(zero, s.b, 0, gb);
        }
    }
    return Removal{2 * pi * sum, covers(worn, from, to)};
}

std::optional<double> highest_gap(const Section& edge, const std::vector<Vec2>& worn) {
    std::optional<double> most;
    for (const auto& s : stretches(edge.points, worn, edge.points.front().x(), edge.points.back().x()))
        most = std::max({most.value_or(s.gap_a), s.gap_a, s.gap_b});
    return most;
}

std::optional<double> nearest_to_face(const Section& section, const std::vector<Vec2>& worn) {
    std::optional<double> least;
    const double inner = section.points[section.face].x(), outer = section.points[section.face + 1].x();
    for (const auto& s : stretches(section.points, worn, inner, outer)) {
        const bool cross = (s.gap_a < 0) != (s.gap_b < 0);
        const double gap = cross ? 0 : std::min(std::abs(s.gap_a), std::abs(s.gap_b));
        least = std::min(least.value_or(gap), gap);
    }
    return least;
}

double proud_by(const Section& section, const std::vector<Vec2>& worn) {
    return std::max(0.0, highest_gap(section, worn).value_or(0));
}

std::vector<std::array<double, 2>> still_old(const Section& section, const std::vector<Vec2>& worn,
                                             double depth) {
    std::vector<std::array<double, 2>> out;
    const double inner = section.points[section.face].x(), outer = section.points[section.face + 1].x();
    for (const auto& s : stretches(section.points, worn, inner, outer)) {
        const double ga = s.gap_a + depth + least_step, gb = s.gap_b + depth + least_step;
        if (ga >= 0 && gb >= 0) continue;
        const double zero = (ga < 0) != (gb < 0) ? s.a + (s.b - s.a) * ga / (ga - gb) : s.a;
        const double from = ga < 0 ? s.a : zero, to = gb < 0 ? s.b : zero;
        if (!out.empty() && std::abs(out.back()[1] - from) < same_radius)
            out.back()[1] = to;
        else
            out.push_back({from, to});
    }
    return out;
}

}  // namespace seatwright::shape
