#include "seatwright/forecast/causes.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace seatwright::forecast {
namespace {

constexpr std::array<const char*, 10> cause_names{"posts",           "yaw",     "casting",      "touch",
                                                  "positioning",     "play",    "pilot runout", "attitude",
                                                  "guide direction", "residual"};

// A share below this is rounding.
constexpr double share_of_nothing = 1e-12;

// Mean squares of the runout by cause, mean over the seats.
std::array<double, cause_names.size()> cause_squares(const MadeBatch& made, const Frame& frame) {
    const Batch& b = made.batch;
    std::array<double, cause_names.size()> sum{};
    std::vector<std::vector<MissParts>> parts;
    parts.reserve(made.guides.size());
    for (std::size_t s = 0; s < made.guides.size(); ++s)
        parts.push_back(miss_parts(made.guides[s], made.rules[s], made.places[s]));
    for (std::size_t i = 0; i < b.seats.size(); ++i) {
        const Seat& seat = b.seats[i];
        const double sine = std::sin(seat.angle), half = seat.gauge / 2 * std::cos(seat.angle);
        const double reach = seat.bend * sine + half * (1 - b.share) * seat.bend * seat.bend_slope;
        const double miss = 4 * reach * reach, lean = 4 * half * half * b.share * b.share;
        const MissParts& of = parts[seat.setup][frame.seats[i].guide];
        const std::array<double, cause_names.size()> one{
            miss * of.posts,
            miss * of.yaw,
            miss * of.casting,
            miss * of.touch,
            miss * 2 * b.positioning_sd * b.positioning_sd,
            4 * sine * sine * seat.play * seat.play / 2,
            sine * sine * seat.pilot_runout * seat.pilot_runout,
            lean * 2 * b.setups[seat.setup].level_sd * b.setups[seat.setup].level_sd,
            lean * 2 * b.guide_angle_sd * b.guide_angle_sd,
            lean * seat.residual.squaredNorm()};
        for (std::size_t c = 0; c < one.size(); ++c) sum[c] += one[c] / static_cast<double>(b.seats.size());
    }
    return sum;
}

}  // namespace

double runout_square(const MadeBatch& made, const Frame& frame) {
    double all = 0;
    for (const double s : cause_squares(made, frame)) all += s;
    return all;
}

std::vector<Cause> causes_of(const MadeBatch& made, const Frame& frame) {
    const auto sum = cause_squares(made, frame);
    double all = 0;
    for (const double s : sum) all += s;
    std::vector<Cause> out;
    for (std::size_t c = 0; c < cause_names.size(); ++c)
        if (all > 0 && sum[c] > share_of_nothing * all)
            out.push_back({cause_names[c], sum[c] / all, std::sqrt(sum[c])});
    std::stable_sort(out.begin(), out.end(),
                     [](const Cause& a, const Cause& b) { return a.share > b.share; });
    return out;
}

}  // namespace seatwright::forecast
