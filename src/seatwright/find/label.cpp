#include "seatwright/find/label.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "seatwright/find/assign.hpp"
#include "seatwright/find/stood_by.hpp"
#include "seatwright/words/english_find.hpp"

namespace seatwright::find {
namespace {

// Odds below which a label is not to be relied on: one mistake in twenty heads.
constexpr double sure_odds = 20;

List guide_names(const job::Job& job, const SetupInput& input, const std::vector<std::size_t>& guides) {
    List names{Join::commas, {}};
    names.items.reserve(guides.size());
    for (const std::size_t g : guides)
        names.items.emplace_back(job.head.valves[input.setup->valves[g].valve].id);
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
             sentence<"not-labelled">("head"_is = head, "touches"_is = touches.size(), "why"_is = why),
             Severity::blocking});
        result.held_back.push_back(
            {head,
             {},
             std::nullopt,
             HeldCode::fit,
             sentence<"unnamed-fit-none">("touches"_is = touches.size(), "why"_is = why),
             sentence<"unnamed-fit-none-frees">()});
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
    const auto& second = best->assigned.runner_up;
    const Part others =
        second.empty() ? Part(sentence<"those-of-another-setup">()) : Part(guide_names(job, input, second));
    if (odds && *odds < sure_odds) {
        const auto guides = "guides"_is = guide_names(job, input, best->assigned.guide);
        const auto rather = "others"_is = others;
        const auto by = "odds"_is = as_number(*odds, 1);
        result.warnings.push_back(
            {"find", "labels-unsure", std::nullopt,
             sentence<"labels-unsure">("head"_is = head, guides, "setup"_is = input.setup->id, rather, by),
             Severity::blocking});
        result.held_back.push_back({head, input.setup->id, std::nullopt, HeldCode::fit,
                                    sentence<"unnamed-fit-two">(guides, rather, by),
                                    sentence<"unnamed-fit-two-frees">()});
    }
    result.inputs = std::move(inputs);
    return result;
}

}  // namespace seatwright::find
