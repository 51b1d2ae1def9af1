#include "seatwright/cut/planting.hpp"

#include <algorithm>

namespace seatwright::cut {
namespace {

// Whether the body at the stop of `cut` meets the pilot standing in `other`.
bool meets(const Planted& cut, const Planted& other, double body, double lowest) {
    const double reaches = other.gauge_plane + other.top_most;
    if (reaches < cut.gauge_plane - lowest) return false;
    return (cut.at - other.at).norm() < 0.5 * (body + other.diameter) + clear_beside_planted;
}

}  // namespace

std::vector<int> planting_turns(const std::vector<Planted>& planted, double body, double lowest) {
    std::vector<std::size_t> row(planted.size());
    for (std::size_t i = 0; i < row.size(); ++i) row[i] = i;
    std::stable_sort(row.begin(), row.end(),
                     [&](std::size_t a, std::size_t b) { return planted[a].at.x() < planted[b].at.x(); });
    std::vector<int> turn(planted.size(), -1);
    const auto fits = [&](std::size_t i, int t) {
        int alike = 1;
        for (std::size_t j = 0; j < planted.size(); ++j) {
            if (turn[j] != t) continue;
            if (planted[j].pilot == planted[i].pilot) ++alike;
            if (meets(planted[i], planted[j], body, lowest) || meets(planted[j], planted[i], body, lowest))
                return false;
        }
        return !planted[i].count || alike <= *planted[i].count;
    };
    // A turn of its own always fits: a pilot is not in its own way, and the shop has at least one.
    for (const std::size_t i : row)
        for (int t = 0; turn[i] < 0; ++t)
            if (fits(i, t) || t >= static_cast<int>(planted.size())) turn[i] = t;
    return turn;
}

}  // namespace seatwright::cut
