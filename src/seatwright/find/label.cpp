#include "seatwright/find/label.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "seatwright/find/assign.hpp"
#include "seatwright/find/stood_by.hpp"

namespace seatwright::find {
namespace {

// Odds below which a label is not to be relied on: one mistake in twenty heads.
constexpr double sure_odds = 20;

std::string guide_names(const job::Job& job, const SetupInput& input,
                        const std::vector<std::size_t>& guides) {
    std::string names;
    for (const std::size_t g : guides)
        names += (names.empty() ? "" : ", ") + job.head.valves[input.setup->valves[g].valve].id;
    return names;
}

struct Choice {
    std::size_t setup = 0;
    Assigned assigned;
};

}  // namespace

Labelled label_touches(const job::Job& job, std::vector<SetupInput> inputs,
                       const std::vector<Unlabelled>& touches) {
    Labelled result;
    if (touches.empty() || inputs.empty()) {
        result.inputs = std::move(inputs);
        return result;
    }
    std::optional<Choice> best;
    double rival = std::numeric_limits<double>::infinity();  // least cost in another setup
    std::string why;
    for (std::size_t s = 0; s < inputs.size(); ++s) {
        auto assigned = assign_unlabelled(set_free(inputs[s].guides, inputs[s].readings), inputs[s].readings,
                                          touches, inputs[s].prior);
        if (!assigned) {
            why = assigned.error().text;
            continue;
        }
        if (best && assigned->cost >= best->assigned.cost) {
            rival = std::min(rival, assigned->cost);
            continue;
        }
        if (best) rival = std::min(rival, best->assigned.cost);
        best = Choice{s, std::move(*assigned)};
    }
    const std::string& head = inputs.front().head;
    if (!best) {
        result.warnings.push_back(
            {"find", "touches-not-labelled", std::nullopt,
             fmt::format("head {}: {} unlabelled touches are left out: {}.", head, touches.size(), why),
             Severity::blocking});
        result.inputs = std::move(inputs);
        return result;
    }
    std::optional<double> odds = best->assigned.odds;
    if (std::isfinite(rival)) {
        const double against = std::exp(std::min(700.0, 0.5 * (rival - best->assigned.cost)));
        if (against < odds.value_or(no_rival)) odds = against;
    }
    SetupInput& input = inputs[best->setup];
    for (std::size_t i = 0; i < touches.size(); ++i) {
        const std::size_t guide = best->assigned.guide[i];
        input.readings.push_back({guide, touches[i].at, touches[i].sd, touches[i].touch, touches[i].keep});
        input.assignments.push_back({touches[i].touch, input.setup->valves[guide].valve, odds});
    }
    if (odds && *odds < sure_odds)
        result.warnings.push_back(
            {"find", "labels-unsure", std::nullopt,
             fmt::format("head {}: the unlabelled touches fit guides {} of setup {}, but {} fit nearly as "
                         "well ({:.1f} "
                         "to 1). Label one of them.",
                         head, guide_names(job, input, best->assigned.guide), input.setup->id,
                         best->assigned.runner_up.empty() ? "those of another setup"
                                                          : guide_names(job, input, best->assigned.runner_up),
                         *odds),
             Severity::blocking});
    result.inputs = std::move(inputs);
    return result;
}

}  // namespace seatwright::find
