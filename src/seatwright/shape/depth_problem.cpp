#include "seatwright/shape/depth_problem.hpp"

#include <algorithm>

namespace seatwright::shape {

namespace {

struct Extent {
    double low = no_limit, high = -no_limit;
    void add(double v) {
        low = std::min(low, v);
        high = std::max(high, v);
    }
    std::optional<double> width() const {
        return high < low ? std::nullopt : std::optional<double>(high - low);
    }
};

}  // namespace

DepthProblem without(const DepthProblem& problem, const std::vector<bool>& gone) {
    std::vector<bool> keep(problem.chamber.size(), true);
    for (std::size_t i = 0; i < problem.seats.size(); ++i)
        if (gone[i] && problem.seats[i].cylinder) keep[*problem.seats[i].cylinder] = false;
    DepthProblem rest = problem;
    rest.seats.clear();
    rest.chamber.clear();
    rest.cylinder_name.clear();
    std::vector<std::optional<std::size_t>> now(problem.chamber.size());
    for (std::size_t c = 0; c < problem.chamber.size(); ++c)
        if (keep[c]) {
            now[c] = rest.chamber.size();
            rest.chamber.push_back(problem.chamber[c]);
            rest.cylinder_name.push_back(problem.cylinder_name[c]);
        }
    for (std::size_t i = 0; i < problem.seats.size(); ++i) {
        if (gone[i]) continue;
        rest.seats.push_back(problem.seats[i]);
        if (auto& c = rest.seats.back().cylinder) c = now[*c];
    }
    return rest;
}

DepthProblem after_depths_by_hand(DepthProblem problem) {
    for (DepthSeat& seat : problem.seats) {
        if (!seat.by_hand) continue;
        if (seat.stem) *seat.stem += seat.low;
        if (seat.cylinder) problem.chamber[*seat.cylinder] += problem.area[seat.kind] * seat.low;
        seat.low = seat.high = 0;
    }
    return problem;
}

job::PerKind<std::optional<double>> stem_spread_after(const DepthProblem& problem,
                                                      const std::vector<double>& depth) {
    job::PerKind<Extent> extent;
    for (std::size_t i = 0; i < problem.seats.size(); ++i)
        if (problem.seats[i].stem) extent[problem.seats[i].kind].add(*problem.seats[i].stem + depth[i]);
    return {extent.intake.width(), extent.exhaust.width()};
}

std::optional<double> chamber_spread_after(const DepthProblem& problem, const std::vector<double>& depth) {
    std::vector<double> volume = problem.chamber;
    for (std::size_t i = 0; i < problem.seats.size(); ++i)
        if (const auto& c = problem.seats[i].cylinder)
            volume[*c] += problem.area[problem.seats[i].kind] * depth[i];
    Extent extent;
    for (const double v : volume) extent.add(v);
    return extent.width();
}

}  // namespace seatwright::shape
