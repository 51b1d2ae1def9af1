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
