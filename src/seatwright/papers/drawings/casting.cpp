#include "seatwright/papers/drawings/casting.hpp"

#include <algorithm>

#include "seatwright/papers/page/scale.hpp"

namespace seatwright::papers {

namespace {

constexpr double wall = 10;             // mm of casting outside the outermost hole or seat
constexpr double unknown_radius = 15;   // mm, a seat of unknown size
constexpr double guess_thickness = 90;  // mm, a head of unknown guides

double radius_of(const std::optional<job::ValveForm>& valve) {
    return valve && valve->head_diameter > 0 ? valve->head_diameter / 2 : unknown_radius;
}

}  // namespace

std::map<int, Vec2> cylinder_centres(const job::Head& head) {
    std::map<int, Vec2> centres;
    std::map<int, int> counts;
    for (const auto& valve : head.valves) {
        if (head.bore_spacing && valve.cylinder <= head.cylinders) {
            // The pattern puts cylinder k at (k − 1)·spacing, turned over by a mirrored casting.
            const double x = (valve.cylinder - 1) * *head.bore_spacing;
            centres[valve.cylinder] = {head.mirror == job::Mirror::x ? -x : x, 0};
            counts[valve.cylinder] = 1;
            continue;
        }
        auto& sum = centres.try_emplace(valve.cylinder, Vec2::Zero()).first->second;
        sum += valve.seat.head<2>();
        ++counts[valve.cylinder];
    }
    for (auto& [cylinder, centre] : centres) centre /= counts[cylinder];
    return centres;
}

double drawn_radius(const job::Job& job, job::Kind kind) {
    if (job.valve[kind]) return radius_of(job.valve[kind]);
    if (job.seat[kind] && job.seat[kind]->contact_diameter) return *job.seat[kind]->contact_diameter / 2;
    return unknown_radius;
}

Casting implied_casting(const job::Head& head, const job::PerKind<std::optional<job::ValveForm>>& valve,
                        const job::PerKind<std::optional<job::GuideForm>>& guide) {
    Extent2 all;
    const double hole = head.bolt_hole_diameter.value_or(0) / 2;
    for (const auto& h : head.bolt_holes) all.hold(h, hole + wall);
    Casting casting;
    for (const auto& v : head.valves) {
        all.hold(v.seat.head<2>(), radius_of(valve[v.kind]) + wall);
        const auto& g = guide[v.kind];
        const double deep = g && g->to_seat ? *g->to_seat + 0.6 * g->length.value_or(0) : guess_thickness;
        casting.thickness = std::max(casting.thickness, deep - v.seat.z());
    }
    if (head.bore_diameter)
        for (const auto& [cylinder, centre] : cylinder_centres(head))
            all.hold(centre, *head.bore_diameter / 2);
    if (all.empty()) all.hold(Vec2::Zero(), wall);
    casting.low = all.low;
    casting.high = all.high;
    if (casting.thickness <= 0) casting.thickness = guess_thickness;
    return casting;
}

std::vector<Strip> strips_of(const job::Head& head, double low, double high, std::size_t count) {
    std::vector<double> centres;
    for (const auto& [cylinder, centre] : cylinder_centres(head)) centres.push_back(centre.x());
    std::sort(centres.begin(), centres.end());
    const std::size_t parts = std::clamp<std::size_t>(count, 1, std::max<std::size_t>(centres.size(), 1));
    std::vector<Strip> strips;
    double from = low;
    for (std::size_t k = 1; k <= parts; ++k) {
        const std::size_t next = k * centres.size() / parts;  // the first cylinder of the next strip
        const double to = k == parts ? high : (centres[next - 1] + centres[next]) / 2;
        strips.push_back({from, to, k == 1, k == parts});
        from = to;
    }
    return strips;
}

}  // namespace seatwright::papers
