// Of a group: verdicts and risks, what is told of its heads beside what they are.
#include <algorithm>
#include <cmath>

#include "seatwright/forecast/group.hpp"
#include "seatwright/forecast/single.hpp"

namespace seatwright::forecast {

// What is told of heights at odds with what they are, of each point: the chance that they are bad and passed,
// and that they are good and failed. True heights are drawn where spreads are judged.
Group::AtOdds Group::at_odds(const Shared& shared, const double* own, double head) const {
    const double u = batch_.height_u.value_or(0);
    set_means(shared, head);
    if (!batch_.stem_spread)
        return {std::max(0.0, each_height(ways[1]) - each_height(ways[3])),
                std::max(0.0, each_height(ways[0]) - each_height(ways[4]))};
    for (std::size_t i = 0; i < means_.size(); ++i) means_[i] += own_height_ * own[i];
    if (heights(0, 0) > 0) return {0, 1 - heights(u, -2 * u)};
    return {heights(u, 2 * u), 0};
}

// The mean of that with runouts that agree. A node after the other takes its part of the points.
std::vector<Group::AtOdds> Group::odds(int scramble, std::size_t points) const {
    std::vector<AtOdds> out(nodes_.size());
    if (!has_heights_) return out;
    const int shared_numbers = sharing_.dimensions();
    const int drawn = batch_.stem_spread ? static_cast<int>(batch_.seats.size()) : 0;
    const std::size_t all = shared_numbers + drawn == 0 ? 1 : points;
    std::vector<double> count(nodes_.size(), 0);
    std::size_t p = 0;
    each_point(shared_numbers + drawn, points, scramble, seed_, [&](const double* normal) {
        const Shared shared = sharing_.of(normal);
        const bool few = all < nodes_.size();
        const std::size_t first = few ? 0 : p * nodes_.size() / all, last = few ? nodes_.size() : first + 1;
        ++p;
        for (std::size_t n = first; n < last; ++n) {
            ++count[n];
            const AtOdds at = at_odds(shared, normal + shared_numbers, nodes_[n]);
            constexpr double nothing = 1e-12;
            if (at.bad_passed > nothing) out[n].bad_passed += at.bad_passed * seats_chance(3, shared);
            if (at.good_failed > nothing) out[n].good_failed += at.good_failed * seats_chance(4, shared);
        }
    });
    for (std::size_t n = 0; n < out.size(); ++n) {
        out[n].bad_passed /= std::max(1.0, count[n]);
        out[n].good_failed /= std::max(1.0, count[n]);
    }
    return out;
}

// Of each point: bad and passed, good and failed, true heights drawn where spreads are judged.
void Group::risks_by_points(int scramble, std::size_t points, std::vector<NodeChances>& out) const {
    const double u = batch_.height_u.value_or(0);
    const int shared_numbers = sharing_.dimensions();
    const int drawn = batch_.stem_spread ? static_cast<int>(batch_.seats.size()) : 0;
    std::vector<double> consumer(nodes_.size(), 0), producer(nodes_.size(), 0);
    each_point(shared_numbers + drawn, points, scramble, seed_, [&](const double* normal) {
        const Shared shared = sharing_.of(normal);
        const double* own = normal + shared_numbers;
        std::array<double, ways.size()> seats{};
        for (const std::size_t w : {0, 1, 3, 4}) seats[w] = seats_chance(w, shared);
        for (std::size_t n = 0; n < nodes_.size(); ++n) {
            if (!has_heights_) {
                consumer[n] += seats[1] - seats[3];
                producer[n] += seats[0] - seats[4];
                continue;
            }
            set_means(shared, nodes_[n]);
            if (!batch_.stem_spread) {
                consumer[n] += seats[1] * each_height(ways[1]) - seats[3] * each_height(ways[3]);
                producer[n] += seats[0] * each_height(ways[0]) - seats[4] * each_height(ways[4]);
                continue;
            }
            for (std::size_t i = 0; i < means_.size(); ++i) means_[i] += own_height_ * own[i];
            const double good = heights(0, 0);
            constexpr double nothing = 1e-14;
            if (const double bad = seats[1] - seats[3] * good; bad > nothing)
                consumer[n] += bad * heights(u, 2 * u);
            if (good > 0) producer[n] += good * (seats[0] - seats[4] * heights(u, -2 * u));
        }
    });
    const double m = shared_numbers + drawn == 0 ? 1 : static_cast<double>(points);
    for (std::size_t n = 0; n < out.size(); ++n) {
        out[n].together[0] = out[n].good;
        out[n].together[1] = out[n].pass;
        out[n].together[2] = out[n].not_failed;
        out[n].together[3] = out[n].pass - consumer[n] / m;
        out[n].together[4] = out[n].good - producer[n] / m;
    }
}

void Group::verdicts(int scramble, std::size_t points, std::vector<NodeChances>& out) const {
    std::vector<std::vector<double>> rates;
    if (weaves_.empty())
        by_points(scramble, points, 3, rates);
    else
        rates = woven(ways.size(), scramble, points);
    for (std::size_t n = 0; n < out.size(); ++n) {
        out[n].good = rates[0][n];
        out[n].pass = rates[1][n];
        out[n].not_failed = rates[2][n];
    }
    if (weaves_.empty()) {
        risks_by_points(scramble, points, out);
    } else {
        const auto at_odds = odds(scramble, points);
        for (std::size_t n = 0; n < out.size(); ++n)
            out[n].together = {out[n].good, out[n].pass, out[n].not_failed,
                               rates[3][n] - at_odds[n].bad_passed, rates[4][n] - at_odds[n].good_failed};
    }
    const double enter = apart_ ? all_enter(scramble, enter_points(points)) : 1;
    for (NodeChances& node : out) {
        node.good *= enter;
        node.pass *= enter;
        node.not_failed *= enter;
        for (double& chance : node.together) chance *= enter;
    }
}

}  // namespace seatwright::forecast
