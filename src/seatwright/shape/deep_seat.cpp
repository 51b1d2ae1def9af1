#include "seatwright/shape/deep_seat.hpp"
#include "seatwright/words/english_shape.hpp"

#include <algorithm>
#include <vector>

namespace seatwright::shape {

namespace {

// Depths that differ by less are alike: rounding of sums of whole steps, mm.
constexpr double depths_alike = 1e-6;

// Only a seat that ends at what it needs itself can be the one that sinks the others: of each kind the one
// that stands highest then, and the deepest.
std::vector<std::size_t> suspects(const DepthProblem& problem) {
    std::vector<std::size_t> out;
    const auto add = [&](const auto& rank) {
        std::optional<std::size_t> best;
        for (std::size_t i = 0; i < problem.seats.size(); ++i)
            if (rank(i) > -no_limit && (!best || rank(i) > rank(*best))) best = i;
        if (best && std::find(out.begin(), out.end(), *best) == out.end()) out.push_back(*best);
    };
    for (const auto kind : job::both_kinds)
        add([&](std::size_t i) {
            const DepthSeat& s = problem.seats[i];
            return s.kind == kind && s.stem ? *s.stem + s.low : -no_limit;
        });
    if (problem.holds_chambers()) add([&](std::size_t i) { return problem.seats[i].low; });
    return out;
}

}  // namespace

std::optional<DeepSeat> deep_seat_of(const DepthProblem& problem, const DepthOutcome& planned) {
    if (!planned.plan.feasible || !planned.plan.total) return std::nullopt;
    double needed = 0;
    for (const DepthSeat& seat : problem.seats) needed += seat.low;
    if (*planned.plan.total - needed < least_worth_saying) return std::nullopt;
    std::optional<DeepSeat> best;
    for (const std::size_t i : suspects(problem)) {
        std::vector<bool> gone(problem.seats.size(), false);
        gone[i] = true;
        const DepthOutcome spared = plan_depths(without(problem, gone), LengthUnit::mm);
        if (!spared.plan.feasible || !spared.plan.total) continue;
        DeepSeat deep{i, 0, 0, *planned.plan.total, *spared.plan.total};
        for (std::size_t j = 0, k = 0; j < problem.seats.size(); ++j) {
            if (j == i) continue;
            const double more = planned.depth[j].value_or(0) - spared.depth[k++].value_or(0);
            if (more > depths_alike) ++deep.others, deep.deeper += more;
        }
        const bool worth = deep.others >= 2 && deep.deeper >= least_worth_saying;
        if (worth && (!best || deep.deeper > best->deeper)) best = deep;
    }
    return best;
}

Warning deep_seat_warning(const DepthProblem& problem, const DeepSeat& deep) {
    const DepthSeat& seat = problem.seats[deep.seat];
    return {"shape", "deep-seat", seat.name,
            sentence<"deep-seat">("seat"_is = seat.name, "low"_is = as_length(seat.low),
                                  "others"_is = deep.others, "deeper"_is = as_length(deep.deeper),
                                  "total"_is = as_length(deep.total),
                                  "total_with_insert"_is = as_length(deep.total_with_insert)),
            Severity::note};
}

}  // namespace seatwright::shape
