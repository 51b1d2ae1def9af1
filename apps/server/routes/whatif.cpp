// Computing with changes that are not stored: what a drag or a half-typed number would give.
#include <fmt/format.h>

#include <cmath>

#include "server/answers/drawings.hpp"
#include "server/answers/job_state.hpp"
#include "server/intake/edits.hpp"
#include "server/intake/six_answers.hpp"
#include "server/routes/routes.hpp"

namespace seatwright::server {

namespace {

using job::Stage;
using store::Role;

constexpr std::size_t most_drawings = 12;
constexpr std::size_t most_depths = 1000;
constexpr double deepest_asked = 100;  // mm

std::optional<double> angle_field(const Json& body, const std::string& name) {
    const auto at = body.find(name);
    if (at == body.end() || at->is_null()) return std::nullopt;
    if (!at->is_number()) throw http_error(400, name + " is a number");
    return angle_within(at->get<double>(), name);
}

plan::Overrides overrides_of(const Json& body) {
    plan::Overrides overrides;
    if (const auto at = body.find("attitude"); at != body.end() && at->is_object()) {
        const auto tilt = angle_field(*at, "tilt_deg"), swing = angle_field(*at, "swing_deg");
        overrides.attitude = {text_field_if(*at, "setup").value_or(""),
                              tilt ? std::optional(rad(*tilt)) : std::nullopt,
                              swing ? std::optional(rad(*swing)) : std::nullopt};
    }
    if (const auto at = body.find("depths"); at != body.end() && at->is_object()) {
        if (at->size() > most_depths)
            throw http_error(400, fmt::format("at most {} depths are tried at once, these are {}",
                                              most_depths, at->size()));
        for (const auto& [valve, depth] : at->items()) {
            if (!depth.is_number() || !(std::abs(depth.get<double>()) <= deepest_asked))
                throw http_error(400, fmt::format("depths are numbers, mm, {} at most", deepest_asked));
            overrides.depths[valve] = depth.get<double>();
        }
    }
    return overrides;
}

std::vector<Stage> stages_wanted(const Json& body) {
    std::vector<Stage> stages;
    const auto wanted = body.find("results");
    if (wanted == body.end() || !wanted->is_array()) return stages;
    for (const Stage stage : {Stage::hold, Stage::find, Stage::shape, Stage::cut, Stage::prove})
        if (std::find(wanted->begin(), wanted->end(), std::string(job::name_of(stage))) != wanted->end())
            stages.push_back(stage);
    return stages;
}

DrawingQuery query_of(const Json& wanted, LengthUnit unit) {
    DrawingQuery query;
    query.unit = unit;
    const auto at = wanted.find("query");
    if (at == wanted.end() || !at->is_object()) return query;
    query.setup = text_field_if(*at, "setup").value_or("");
    query.kind = text_field_if(*at, "kind").value_or("");
    query.valve = text_field_if(*at, "valve").value_or("");
    query.what = text_field_if(*at, "what").value_or("");
    return query;
}

// A drawing that cannot be made as things stand is left out: the page keeps the one it has.
Json drawings_drawn(Computation& computation, const Json& body, LengthUnit unit,
                    const Questions::Turn& turn) {
    Json drawings = Json::object();
    const auto wanted = body.find("drawings");
    if (wanted == body.end() || !wanted->is_array()) return drawings;
    if (wanted->size() > most_drawings) throw http_error(400, "at most 12 drawings at once");
    for (const auto& one : *wanted) {
        const std::string name = text_field(one, "name");
        turn.check();
        try {
            drawings[name] = draw(computation, name, query_of(one, unit)).embedded();
        } catch (const HttpError& stopped) {
            if (stopped.status != 422) throw;
        }
    }
    return drawings;
}

void what_if(Call& call, Workbench& bench) {
    const Json body = call.json();
    const auto turn = bench.questions.take(call.person().id, call.asker_there());
    const auto stored = bench.cache.stored(call.number(1));
    const auto edits = body.contains("edits") ? edits_of(body) : std::vector<Edit>{};
    const std::string head = text_field_if(body, "head").value_or("");
    const auto computation = edits.empty()
                                 ? bench.cache.try_out(stored, head, overrides_of(body))
                                 : bench.cache.try_out(*stored, take(edited(stored->version.text, edits)),
                                                       head, overrides_of(body));
    computation->before_each_stage([&turn] { turn.check(); });
    const LengthUnit own = computation->readable() ? computation->job().units : stored->units;
    const LengthUnit unit = units_named(text_field_if(body, "units").value_or("")).value_or(own);
    Json answer{{"version", stored->row.version},
                {"sequence", stored->row.sequence},
                {"drawings", Json::object()},
                {"stages", Json::object()},
                {"faults", json_of(computation->faults())}};
    std::string results = "{}", warnings = "[]";
    if (computation->readable()) {
        results = results_text(*computation, stages_wanted(body), unit);
        answer["drawings"] = drawings_drawn(*computation, body, unit, turn);
        // Only what the results and drawings asked for made necessary: a drag must not wait for the rest.
        answer["stages"] = stages_so_far_json(*stored, *computation, unit);
        warnings = computation->warnings_so_far_text(unit);
    }
    std::string text = answer.dump(-1, ' ', false, Json::error_handler_t::replace);
    text.pop_back();
    text += ",\"warnings\":" + warnings + ",\"results\":" + results + "}";
    call.answer_text(200, std::move(text), "application/json");
}

// The job that six answers would make, as far as they go, with its plan drawing.
void preview(Call& call, Workbench& bench) {
    const Json answers = call.json();
    const auto turn = bench.questions.take(call.person().id, call.asker_there());
    const auto text = text_of_answers(answers, bench.shelf.current().text);
    if (!text) throw http_error(text.error());
    Computation computation(read_with_shop(*text, bench.shelf.current().text), "");
    Json svg = nullptr;
    if (computation.readable()) try {
            DrawingQuery query;
            query.unit = call.query_units().value_or(computation.job().units);
            svg = draw(computation, "plan", query).embedded();
        } catch (const HttpError&) {
            // Not enough to draw yet.
        }
    call.answer(200, {{"text", *text}, {"svg", std::move(svg)}, {"faults", json_of(computation.faults())}});
}

}  // namespace

void add_whatif_routes(Router& router, Workbench& bench) {
    router.add({"POST", "/api/jobs/{id}/whatif", Role::reader, [&](Call& call) { what_if(call, bench); }});
    router.add({"POST", "/api/preview", Role::reader, [&](Call& call) { preview(call, bench); }});
}

}  // namespace seatwright::server
