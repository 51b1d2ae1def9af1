#include "seatwright/hold/minimax.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"
#include "seatwright/hold/cap.hpp"
#include "seatwright/hold/edge.hpp"

namespace seatwright::hold {

namespace {

// Halving π this often reaches the spacing of doubles near 1e-16.
constexpr int halvings = 54;

struct Worst {
    std::size_t index = 0;
    double error = 0;
};

Worst worst_of(const std::vector<Vec3>& axes, const Vec3& u) {
    Worst worst;
    double most = -1;
    for (std::size_t i = 0; i < axes.size(); ++i) {
        const double chord2 = (axes[i] - u).squaredNorm();
        if (chord2 > most) {
            most = chord2;
            worst.index = i;
        }
    }
    worst.error = angle_by_chord(axes[worst.index], u);
    return worst;
}

BestAttitude best_on_edge(const std::vector<Vec3>& axes, const Edge& edge) {
    std::vector<Wave> waves;
    waves.reserve(axes.size());
    for (const auto& axis : axes) waves.push_back(edge.wave(axis));
    double low = edge.range.low, high = edge.range.high;
    // The axes that push the answer to the right from below and to the left from above.
    std::size_t from_low = worst_of(axes, spindle_in_head(edge.at(low))).index;
    std::size_t from_high = worst_of(axes, spindle_in_head(edge.at(high))).index;
    for (int k = 0; k < halvings && low < high; ++k) {
        const double middle = low + (high - low) / 2;
        const auto worst = worst_of(axes, spindle_in_head(edge.at(middle))).index;
        const bool better_above = waves[worst].slope(middle) > 0;  // the cosine grows
        (better_above ? low : high) = middle;
        (better_above ? from_low : from_high) = worst;
    }
    std::vector<double> places{foot(waves[from_low]), foot(waves[from_high])};
    for (const double t : crossings(waves[from_low], waves[from_high])) places.push_back(t);
    for (const double t : {low, high, edge.range.low, edge.range.high}) places.push_back(t);
    BestAttitude best{edge.at(low), worst_plumb(axes, edge.at(low))};
    for (const double t : places) {
        if (t < edge.range.low || t > edge.range.high) continue;
        const double worst = worst_plumb(axes, edge.at(t));
        if (worst < best.worst) best = {edge.at(t), worst};
    }
    return best;
}

}  // namespace

double worst_plumb(const std::vector<Vec3>& axes, const Attitude& attitude) {
    return worst_of(axes, spindle_in_head(attitude)).error;
}

BestAttitude best_attitude(const std::vector<Vec3>& axes, const Reach& reach) {
    require(!axes.empty(), "a group needs at least one guide");
    const Cap cap = smallest_cap(axes);
    const Attitude free = attitude_for(cap.centre);
    if (within(reach, free)) {
        const Attitude held = clamped(reach, free);
        return {held, worst_plumb(axes, held)};
    }
    const auto edges = edges_of(reach);
    BestAttitude best = best_on_edge(axes, edges.front());
    for (std::size_t e = 1; e < edges.size(); ++e) {
        const auto other = best_on_edge(axes, edges[e]);
        if (other.worst < best.worst - angle_tie) best = other;
    }
    best.attitude = clamped(reach, best.attitude);
    return best;
}

}  // namespace seatwright::hold
