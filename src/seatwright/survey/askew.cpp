#include "seatwright/survey/askew.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <map>

#include "seatwright/survey/contradictions.hpp"
#include "seatwright/words/english_survey.hpp"

namespace seatwright::survey {
namespace {

using Says = Row::Says;
using Of = Row::Of;

// How the guides of a setup stand to the row of holes: slope of like guides' Y over X, and how well it is
// known.
struct Askew {
    double slope = 0, sd = 0, reach = 0;
};

std::optional<Askew> askew_in(const State& state, std::size_t setup) {
    std::map<std::string, std::vector<Vec2>> like;
    for (std::size_t g = 0; g < state.layout.guides.size(); ++g)
        if (state.over_in(g) == setup && state.flat_closed(Of::guide, g))
            like[guide_name(state.layout.guides[g])->letters].push_back(
                state.solution.unknowns.segment<2>(state.layout.guide(g)));
    double up = 0, along = 0, spare = -1;
    std::vector<std::pair<double, double>> off;  // of the middle of its like
    for (const auto& [letters, places] : like) {
        Vec2 mean = Vec2::Zero();
        for (const auto& p : places) mean += p / static_cast<double>(places.size());
        spare += static_cast<double>(places.size()) - 1;
        for (const auto& p : places) {
            off.emplace_back(p.x() - mean.x(), p.y() - mean.y());
            up += off.back().first * off.back().second;
            along += off.back().first * off.back().first;
        }
    }
    if (spare < 1 || along <= 0) return std::nullopt;
    Askew out{up / along, 0, 0};
    double squares = 0;
    for (const auto& [x, y] : off) {
        squares += std::pow(y - out.slope * x, 2);
        out.reach = std::max(out.reach, 2 * std::abs(x));
    }
    constexpr double usual_scatter = 0.15;  // mm, of guides about their row (from memory: 0.05 to 0.15)
    out.sd = std::max(usual_scatter, std::sqrt(squares / spare)) / std::sqrt(along);
    return out;
}

// By how much guides levelled in a setup say that it lies askew, since they do not stand plumb where the
// spindle was over them: the yaw that would make them, and how well that is known.
std::optional<Askew> levelled_askew(const State& state, std::size_t setup) {
    const auto& u = state.solution.unknowns;
    const Mat3 r = turn_of(state.layout, setup, u);
    double with = 0, square = 0;
    std::map<std::size_t, double> by_setup;
    for (std::size_t g = 0; g < state.layout.guides.size(); ++g) {
        const auto over = state.over_in(g);
        if (!over || *over == setup || !out_of_plumb(state, g)) continue;
        const bool here = std::all_of(state.rows.begin(), state.rows.end(), [&](const Row& row) {
            return row.aside || row.says != Says::lean || row.of != Of::guide || row.which != g ||
                   row.setup == setup;
        });
        if (!here) continue;
        const Mat3 there = turn_of(state.layout, *over, u);
        const Vec3 off = there * state.axis(g);
        const Vec3 slope = -(there * r.transpose() * Vec3::UnitZ().cross(r * state.axis(g)));
        with += slope.head<2>().dot(off.head<2>());
        square += slope.head<2>().squaredNorm();
        by_setup[*over] += slope.head<2>().norm();
    }
    double common = 0;
    for (const auto& [s, part] : by_setup) common += part * part;
    if (square < 0.01) return std::nullopt;  // upright guides say nothing of it
    // What a setup is off plumb is common to its guides.
    return Askew{-with / square,
                 std::hypot(set_off_sd * std::sqrt(common) / square, plumb_sd / std::sqrt(square)), 0};
}

}  // namespace

Sentence askew_words(const State& state, std::size_t s, double straightest) {
    constexpr double too_crooked = 3 * rad_per_deg, least_askew = 0.5, least_yaw = 0.2 * rad_per_deg,
                     times_askew = 5;
    const std::string& name = state.layout.setups[s];
    if (const auto askew = askew_in(state, s); askew && std::abs(askew->slope) > times_askew * askew->sd &&
                                               std::abs(askew->slope) * askew->reach > least_askew)
        return sentence<"askew-to-holes">("setup"_is = name,
                                          "off"_is = as_depth(std::abs(askew->slope) * askew->reach));
    if (const auto askew = levelled_askew(state, s);
        askew && std::abs(askew->slope) > times_askew * askew->sd && std::abs(askew->slope) > least_yaw)
        return sentence<"askew-by-level">("setup"_is = name,
                                          "askew"_is = as_degrees(std::abs(askew->slope), 1));
    const double yaw = state.solution.unknowns[state.layout.setup(s) + 2];
    if (std::abs(yaw - straightest) > too_crooked)
        return sentence<"askew-of-others">("setup"_is = name,
                                           "askew"_is = as_degrees(std::abs(yaw - straightest), 1));
    return {};
}

}  // namespace seatwright::survey
