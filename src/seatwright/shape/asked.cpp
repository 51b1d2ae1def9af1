#include "seatwright/shape/asked.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/shape/wording.hpp"

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
    Asked(const job::Job& job, const DepthProblem& problem) : job_(job), slack_(noise_of(problem)) {}

    void seat(const DepthSeat& limits, double depth) {
        if (depth < limits.low - slack_)
            broken("asked-cleanup", limits.name,
                   fmt::format("{}: the depth asked for, {}, does not clean up; {} does", limits.name,
                               say(depth), say(limits.low)));
        if (depth > limits.high + slack_)
            broken("asked-limit", limits.name,
                   fmt::format("{}: the depth asked for, {}, is beyond its limit of {} ({})", limits.name,
                               say(depth), say(limits.high), limits.limited_by));
    }

    void spreads(const DepthProblem& rest, const std::vector<double>& depth) {
        out.stem_spread = stem_spread_after(rest, depth);
        out.chamber_spread = chamber_spread_after(rest, depth);
        for (auto& [what, text] : broken_spreads(rest, depth, job_.units))
            broken(what == BrokenSpread::Of::stems ? "asked-stem-spread" : "asked-chamber-spread",
                   std::nullopt, std::move(text));
    }

    AskedDepths out;

  private:
    std::string say(double mm) const { return length_words(mm, job_.units); }
    void broken(const char* code, std::optional<std::string> valve, std::string text) {
        out.broken.push_back({"shape", code, std::move(valve), std::move(text), Severity::blocking});
    }

    const job::Job& job_;
    double slack_;
};

}  // namespace

std::vector<BrokenSpread> broken_spreads(const DepthProblem& problem, const std::vector<double>& depth,
                                         LengthUnit unit) {
    std::vector<BrokenSpread> out;
    const double slack = noise_of(problem);
    const auto stems = stem_spread_after(problem, depth);
    for (const auto kind : job::both_kinds)
        if (problem.holds_stems() && stems[kind].value_or(0) > *problem.stem_spread + slack)
            out.push_back(
                {BrokenSpread::Of::stems,
                 fmt::format("{} stem heights would differ by {}; {} is allowed", job::kind_word(kind),
                             length_words(*stems[kind], unit), length_words(*problem.stem_spread, unit))});
    const auto chambers = chamber_spread_after(problem, depth);
    const double volume_slack = slack * std::max({problem.area.intake, problem.area.exhaust, 1.0});
    if (problem.holds_chambers() && chambers.value_or(0) > *problem.chamber_spread + volume_slack)
        out.push_back({BrokenSpread::Of::chambers,
                       fmt::format("chambers would differ by {}; {} is allowed", volume_words(*chambers),
                                   volume_words(*problem.chamber_spread))});
    return out;
}

AskedDepths cut_as_asked(const job::Job& job, const DepthProblem& problem,
                         const std::map<std::string, double>& asked, std::vector<Seat>& seats) {
    Asked answer(job, problem);
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
