#include "seatwright/shape/asked.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {

namespace {

// Part of a step (or of its volume) by which a limit may be passed by rounding alone, as in the plan.
constexpr double asked_noise = 1e-6;
// mm, where the job has no step.
constexpr double finest = 1e-5;

double noise_of(const DepthProblem& problem) {
    return asked_noise * std::max(problem.step, finest);
}

class Asked {
  public:
    explicit Asked(const DepthProblem& problem) : slack_(noise_of(problem)) {}

    void seat(const DepthSeat& limits, double depth) {
        if (depth < limits.low - slack_)
            broken("asked-cleanup", limits.name,
                   sentence<"asked-cleanup">("valve"_is = limits.name, "depth"_is = as_length(depth),
                                             "needed"_is = as_length(limits.low)));
        if (depth > limits.high + slack_)
            broken("asked-limit", limits.name,
                   sentence<"asked-limit">("valve"_is = limits.name, "depth"_is = as_length(depth),
                                           "limit"_is = as_length(limits.high), "by"_is = limits.limited_by));
    }

    void spreads(const DepthProblem& rest, const std::vector<double>& depth) {
        out.stem_spread = stem_spread_after(rest, depth);
        out.chamber_spread = chamber_spread_after(rest, depth);
        for (auto& [what, text] : broken_spreads(rest, depth))
            broken(what == BrokenSpread::Of::stems ? "asked-stem-spread" : "asked-chamber-spread",
                   std::nullopt, std::move(text));
    }

    AskedDepths out;

  private:
    void broken(const char* code, std::optional<std::string> valve, Sentence text) {
        out.broken.push_back({"shape", code, std::move(valve), std::move(text), Severity::blocking});
    }

    double slack_;
};

}  // namespace

std::vector<BrokenSpread> broken_spreads(const DepthProblem& problem, const std::vector<double>& depth) {
    std::vector<BrokenSpread> out;
    const double slack = noise_of(problem);
    const auto stems = stem_spread_after(problem, depth);
    for (const auto kind : job::both_kinds)
        if (problem.holds_stems() && stems[kind].value_or(0) > *problem.stem_spread + slack)
            out.push_back({BrokenSpread::Of::stems,
                           sentence<"asked-stems">("kind"_is = job::kind_said(kind),
                                                   "differ"_is = as_length(*stems[kind]),
                                                   "allowed"_is = as_length(*problem.stem_spread))});
    const auto chambers = chamber_spread_after(problem, depth);
    const double volume_slack = slack * std::max({problem.area.intake, problem.area.exhaust, 1.0});
    if (problem.holds_chambers() && chambers.value_or(0) > *problem.chamber_spread + volume_slack)
        out.push_back({BrokenSpread::Of::chambers,
                       sentence<"asked-chambers">("differ"_is = as_volume(*chambers),
                                                  "allowed"_is = as_volume(*problem.chamber_spread))});
    return out;
}

AskedDepths cut_as_asked(const DepthProblem& problem, const std::map<std::string, double>& asked,
                         std::vector<Seat>& seats) {
    Asked answer(problem);
    std::vector<bool> gone;
    std::vector<double> depth;
    double total = 0;
    for (const auto& limits : problem.seats) {
        Seat& seat = seats[limits.valve];
        gone.push_back(!seat.depth);
        if (!seat.depth) continue;
        const auto at = asked.find(limits.name);
        if (at != asked.end() && std::isfinite(at->second)) {
            seat.depth = std::clamp(at->second, 0.0, most_asked);
            answer.out.changed = true;
            answer.seat(limits, *seat.depth);
        }
        depth.push_back(*seat.depth);
        total += *seat.depth;
    }
    if (!answer.out.changed) return {};
    answer.out.total = total;
    answer.spreads(without(problem, gone), depth);
    return std::move(answer.out);
}

}  // namespace seatwright::shape
