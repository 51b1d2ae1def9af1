#include "seatwright/base/numerics/turn.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"
#include "seatwright/base/numerics/median.hpp"
#include "seatwright/base/units.hpp"

namespace seatwright::numerics {

namespace {

void measure_gaps(Turn& turn) {
    std::vector<double> at(turn.angle);
    for (double& a : at) {
        a = std::fmod(a, 2 * pi);
        if (a < 0) a += 2 * pi;
    }
    std::sort(at.begin(), at.end());
    std::vector<double> steps;
    steps.reserve(at.size());
    for (std::size_t i = 0; i < at.size(); ++i) {
        const double next = i + 1 < at.size() ? at[i + 1] : at.front() + 2 * pi;
        steps.push_back(next - at[i]);
        if (steps.back() > turn.widest_gap) {
            turn.widest_gap = steps.back();
            turn.widest_gap_from = at[i];
        }
    }
    turn.usual_step = middle_one(std::move(steps));
}

}  // namespace

Turn turn_of(const std::vector<double>& readings, const std::vector<double>& angles) {
    require(!readings.empty(), "a trace has readings");
    require(angles.empty() || angles.size() == readings.size(), "a trace has as many angles as readings");
    Turn turn;
    const auto n = readings.size();
    turn.angle = angles;
    if (angles.empty()) {
        turn.angle.resize(n);
        for (std::size_t i = 0; i < n; ++i)
            turn.angle[i] = 2 * pi * static_cast<double>(i) / static_cast<double>(n);
    }
    double sum = 0;
    for (const double r : readings) sum += r - readings.front();
    turn.mean = readings.front() + sum / static_cast<double>(n);
    turn.r.reserve(n);
    turn.cos.reserve(n);
    turn.sin.reserve(n);
    for (std::size_t i = 0; i < n; ++i) {
        turn.r.push_back(readings[i] - turn.mean);
        turn.cos.push_back(std::cos(turn.angle[i]));
        turn.sin.push_back(std::sin(turn.angle[i]));
    }
    measure_gaps(turn);
    return turn;
}

double full_swing(const Turn& turn) {
    const auto [low, high] = std::minmax_element(turn.r.begin(), turn.r.end());
    return *high - *low;
}

}  // namespace seatwright::numerics
