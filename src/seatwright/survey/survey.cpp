#include "seatwright/survey/survey.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <cmath>

#include "seatwright/survey/asked.hpp"
#include "seatwright/survey/candidates.hpp"
#include "seatwright/survey/contradictions.hpp"
#include "seatwright/survey/missing.hpp"
#include "seatwright/survey/repeats.hpp"
#include "seatwright/survey/state.hpp"
#include "seatwright/survey/told.hpp"
#include "seatwright/words/english_survey.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::survey {
namespace {

using Says = Row::Says;
using Of = Row::Of;

// Readings scatter beyond their sds where chance would do so less often than this.
constexpr double beyond_chance = 0.001;

// Where the readings leave the sensor's zero open and it was set on the deck, that word is taken.
bool take_zero_by_word(State& state) {
    if (state.zero_by_word || state.readings.zero != SensorZero::deck) return false;
    state.zero_by_word = true;
    bool any = false;
    auto rows = zero_rows(state.readings, state.layout);
    for (auto& row : rows) {
        const auto zero = row.weights.front().first;
        const Says says = zero == state.layout.tilt_zero() ? Says::tilt : Says::swing;
        const bool read = std::any_of(state.rows.begin(), state.rows.end(),
                                      [&](const Row& r) { return !r.aside && r.says == says; });
        if (!read || state.u(zero) <= open_lean) continue;
        state.rows.push_back(std::move(row));
        any = true;
    }
    state.zero_by_word = any;
    return any;
}

// A guide that was never levelled one way leans as the pilot that stood plumb in it.
bool take_leans_by_plumb(State& state) {
    bool any = false;
    for (std::size_t g = 0; g < state.layout.guides.size(); ++g) {
        if (state.leans_by_plumb[g] || state.signs_asked[g] != 0) continue;
        for (const int axis : {0, 1}) {
            if (state.closed(g, axis == 0 ? 4 : 3)) continue;
            if (auto row = plumb_row(state.readings, state.layout, g, axis)) {
                state.rows.push_back(std::move(*row));
                state.leans_by_plumb[g] = any = true;
            }
        }
    }
    return any;
}

Solved<State> worked_out(const Readings& readings) {
    constexpr int most_rounds = 12;
    auto begun = begin_state(readings);
    if (!begun) return begun;
    State state = std::move(*begun);
    for (int round = 0; round < most_rounds; ++round) {
        const bool more =
            take_zero_by_word(state) || set_contradictions_aside(state) || take_leans_by_plumb(state);
        if (!more) break;
        if (auto settled = settle(state); !settled) return tl::unexpected(settled.error());
    }
    return state;
}

void grow(Survey& survey) {
    const auto by = [&](Figure& f) { f.u *= survey.scatter; };
    for (auto& v : survey.valves) {
        for (auto* f : {&v.x, &v.y, &v.z, &v.incline, &v.cant}) by(*f);
        v.covariance *= survey.scatter * survey.scatter;
    }
    for (auto& h : survey.holes) {
        by(h.x);
        by(h.y);
    }
    for (auto& s : survey.setups)
        for (auto* f : {&s.tilt, &s.swing, &s.yaw}) by(*f);
    by(survey.sensor_zero);
}

void judge_scatter(const State& state, Survey& survey) {
    survey.chi2 = state.solution.chi2;
    survey.dof = state.solution.dof;
    if (survey.dof < 1) return;
    const boost::math::chi_squared law(survey.dof);
    survey.p_value = boost::math::cdf(boost::math::complement(law, survey.chi2));
    if (*survey.p_value >= beyond_chance) return;
    survey.scatter = std::sqrt(survey.chi2 / survey.dof);
    grow(survey);
    survey.warnings.push_back({"survey", "scatter", std::nullopt,
                               sentence<"scatter">("times"_is = as_number(survey.scatter, 1)),
                               Severity::note});
}

void say(const State& state, Survey& survey) {
    for (const auto& aside : survey.aside)
        survey.warnings.push_back({"survey", "set-aside", std::nullopt,
                                   sentence<"set-aside">("line"_is = aside.line, "key"_is = aside.key,
                                                         "what"_is = aside.what, "why"_is = aside.why),
                                   Severity::note});
    for (const auto& p : state.readings.points) {
        if (p.what == What::valve_head && !p.head_height)
            survey.warnings.push_back(
                {"survey", "head-height", p.id,
                 sentence<"head-height">("line"_is = p.line, "key"_is = p.key, "valve"_is = p.id),
                 Severity::note});
        if (p.what == What::seat && p.ball > 0 && !p.angle)
            survey.warnings.push_back(
                {"survey", "seat-angle", p.id,
                 sentence<"seat-angle">("line"_is = p.line, "key"_is = p.key, "seat"_is = p.id),
                 Severity::note});
    }
    std::vector<std::string> open;
    for (const auto& v : survey.valves)
        if (!v.whole()) open.push_back(v.id);
    if (!open.empty())
        survey.warnings.push_back({"survey", "open", std::nullopt,
                                   sentence<"open">("figures"_is = list_of(open, Join::commas)),
                                   Severity::blocking});
    auto& all = survey.assumptions;
    const auto& r = state.readings;
    if (r.point_sd_assumed) all.push_back(sentence<"readouts-read-to">("sd"_is = as_length(usual_point_sd)));
    if (r.sensor_sd_assumed)
        all.push_back(sentence<"sensor-reads-to">("sd"_is = as_degrees(usual_sensor_sd, 2)));
    if (state.zero_by_word) all.emplace_back(sentence<"zero-on-deck">());
    std::vector<std::string> plumb;
    for (std::size_t g = 0; g < state.layout.guides.size(); ++g)
        if (state.leans_by_plumb[g]) plumb.push_back(state.layout.guides[g]);
    if (!plumb.empty())
        all.push_back(sentence<"stood-plumb">("guides"_is = list_of(plumb, Join::commas),
                                              "within"_is = as_degrees(std::hypot(plumb_sd, set_off_sd), 2)));
    if (state.readings.clamped_once) all.emplace_back(sentence<"not-moved">());
    if (state.turned) all.emplace_back(sentence<"turned-end-for-end">());
    switch (state.frame.along) {
        case Along::holes:
            break;
        case Along::guides:
            all.emplace_back(sentence<"guides-are-x">());
            break;
        case Along::readout:
            all.emplace_back(sentence<"readout-is-x">());
            break;
    }
    if (state.frame.cylinder > 0 && !state.frame.whole_cylinder)
        all.push_back(sentence<"origin-is-mean">("cylinder"_is = state.frame.cylinder));
    all.push_back(sentence<"nothing-milled">("head"_is = r.head));
}

std::vector<Aside> asides_of(const State& state) {
    std::vector<Aside> out;
    for (const auto& row : state.rows)
        if (row.aside) out.push_back({row.line, row.key, row.what, row.why});
    std::stable_sort(out.begin(), out.end(), [](const Aside& a, const Aside& b) { return a.line < b.line; });
    return out;
}

// More than one reading in ten at fault: which of them are right cannot be told.
Faults contradictions_of(const State& state) {
    std::size_t read = 0;
    for (const auto& row : state.rows) read += row.read ? 1 : 0;
    if (10 * state.bad <= std::max<std::size_t>(10, read)) return {};
    Faults out;
    for (const auto& aside : asides_of(state))
        out.push_back({state.readings.file, aside.line, aside.key,
                       in_words(sentence<"contradicts">("why"_is = aside.why, "what"_is = aside.what),
                                {state.readings.units})});
    return out;
}

}  // namespace

bool Survey::whole() const {
    return !valves.empty() &&
           std::all_of(valves.begin(), valves.end(), [](const Valve& v) { return v.whole(); });
}

Checked<Asked> asked_survey(const Readings& readings) {
    const auto state = worked_out(readings);
    if (!state)
        return tl::unexpected(Faults{{readings.file, 0, "point",
                                      fmt::format("{}: look for a tilt, a sign or a name that is wrong; read "
                                                  "the two holes of each setup again",
                                                  state.error().text)}});
    if (auto faults = contradictions_of(*state); !faults.empty()) return tl::unexpected(std::move(faults));
    Asked asked;
    Survey& out = asked.survey;
    out.readings = readings;
    out.valves = valves_of(*state);
    out.holes = holes_of(*state);
    out.setups = setups_of(*state);
    out.sensor_zero = zero_of(*state);
    out.aside = asides_of(*state);
    const auto pattern = pattern_of(*state);
    out.mirrored = pattern && pattern->mirrored;
    asked.turned = state->turned;
    out.repeats = repeats_of(*state, pattern);
    auto wanted = missing_of(*state);
    out.missing = std::move(wanted.missing);
    asked.asks = std::move(wanted.asks);
    asked.ways = ways_of(*state);
    out.sizes = sizes_of(readings);
    for (std::size_t g = 0; g < state->layout.guides.size(); ++g)
        out.worst_plumb = std::max(out.worst_plumb, out_of_plumb(*state, g).value_or(0));
    judge_scatter(*state, out);
    say(*state, out);
    return asked;
}

Checked<Survey> survey(const Readings& readings) {
    auto asked = asked_survey(readings);
    if (!asked) return tl::unexpected(std::move(asked.error()));
    return std::move(asked->survey);
}

}  // namespace seatwright::survey
