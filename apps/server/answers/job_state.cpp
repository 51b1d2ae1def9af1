#include "server/answers/job_state.hpp"

#include <fmt/format.h>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/report.hpp"
#include "server/answers/drawings.hpp"
#include "server/answers/job_card.hpp"

namespace seatwright::server {

namespace {

using job::Stage;
constexpr std::array stages_shown{Stage::hold, Stage::find, Stage::shape, Stage::cut, Stage::prove};

Json valves_json(const Computation& computation) {
    Json list = Json::array();
    if (!computation.readable()) return list;
    for (const auto& v : computation.job().head.valves)
        list.push_back({{"id", v.id},
                        {"kind", job::kind_word(v.kind)},
                        {"cylinder", v.cylinder},
                        {"x_mm", v.seat.x()},
                        {"y_mm", v.seat.y()},
                        {"z_mm", v.seat.z()},
                        {"incline_deg", deg(v.incline)},
                        {"cant_deg", deg(v.cant)}});
    return list;
}

Json overrides_json(const StoredJob& stored) {
    Json list = Json::array();
    for (std::size_t i = 0; i < stored.entries.size(); ++i)
        if (stored.entries[i].kind == store::EntryKind::override_ && stored.resolution.standing[i].live)
            list.push_back(to_json(stored.entries[i], stored.resolution.standing[i]));
    return list;
}

// Of a job of a thousand heads these are megabytes: each is copied once.
void add_results(std::string& text, Computation& computation, std::span<const Stage> stages,
                 LengthUnit unit) {
    std::size_t size = 0;
    for (const Stage stage : stages)
        if (computation.needs(stage).empty()) size += computation.json(stage, unit).size();
    constexpr std::size_t name_and_marks = 16;
    text.reserve(text.size() + size + name_and_marks * (stages.size() + 1));
    char before = '{';
    for (const Stage stage : stages) {
        (((text += before) += '"') += job::name_of(stage)) += "\":";
        if (computation.needs(stage).empty())
            text += computation.json(stage, unit);
        else
            text += "null";
        before = ',';
    }
    text += stages.empty() ? "{}" : "}";
}

std::string name_of_body(LengthUnit unit) {
    return unit == LengthUnit::inch ? "state/in" : "state/mm";
}

// Of the head that is planned.
Json walk_json(Computation& computation, LengthUnit unit) {
    if (!computation.readable()) return Json::array();
    return report::json_of(computation.job(),
                           plan::walk_of(computation.job(), computation.plan(), computation.head()), {unit});
}

// What belongs to the state of the job; the card, which also says who changed it last, stays outside.
std::string body_of(const StoredJob& stored, Computation& computation, LengthUnit unit) {
    Json conflicts = Json::array();
    for (const auto& conflict : stored.resolution.conflicts) conflicts.push_back(to_json(conflict));
    Json body;
    body["heads"] = computation.readable() ? computation.job().heads() : std::vector<std::string>{};
    body["head"] = computation.head();
    body["stages"] = stages_json(stored, computation, unit);
    body["warnings"] = warnings_json(computation.notices(), unit);
    body["conflicts"] = std::move(conflicts);
    body["overrides"] = overrides_json(stored);
    body["drawings"] = drawings_json(computation);
    body["valves"] = valves_json(computation);
    body["walk"] = walk_json(computation, unit);
    body["faults"] = json_of(computation.faults());
    std::string text = body.dump(-1, ' ', false, Json::error_handler_t::replace);
    text.back() = ',';
    text += "\"results\":";
    add_results(text, computation, stages_shown, unit);
    text += '}';
    return text;
}

}  // namespace

std::string results_text(Computation& computation, std::span<const Stage> stages, LengthUnit unit) {
    std::string text;
    add_results(text, computation, stages, unit);
    return text;
}

Json stages_json(const StoredJob& stored, Computation& computation, LengthUnit unit) {
    for (const Stage stage : stages_shown) computation.needs(stage);
    return stages_so_far_json(stored, computation, unit);
}

Json stages_so_far_json(const StoredJob& stored, Computation& computation, LengthUnit unit) {
    Json stages = Json::object();
    const auto lines = computation.lines_so_far(unit);
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (!computation.asked_for(stages_shown[i])) continue;
        const auto& line = lines[i];
        stages[line.stage] = {{"mark", mark_of(stored, line, computation.head())},
                              {"line", line.answer},
                              {"next", line.next},
                              {"needs", computation.needs(stages_shown[i])}};
    }
    return stages;
}

Json warnings_json(const Notices& notices, LengthUnit unit) {
    Json list = Json::array();
    for (const auto& warning : notices.warnings) list.push_back(to_json(warning, {unit}));
    return list;
}

Json drawings_json(Computation& computation) {
    Json list = Json::array();
    for (const auto& drawing : drawings_of(computation))
        list.push_back({{"name", drawing.name},
                        {"stage", drawing.stage},
                        {"title", drawing.title},
                        {"takes", drawing.takes}});
    return list;
}

void recompute_state(Workbench& bench, long long job) {
    const auto stored = bench.cache.stored(job);
    const auto computation = bench.cache.computation(stored, "");
    computation->kept(name_of_body(stored->units),
                      [&] { return body_of(*stored, *computation, stored->units); });
}

std::string state_text(Workbench& bench, long long job, const std::string& head,
                       std::optional<LengthUnit> unit) {
    bench.recompute.looked_at(job);
    const auto stored = bench.cache.stored(job);
    const auto computation = bench.cache.computation(stored, head);
    const LengthUnit shown = unit.value_or(stored->units);
    const std::string& body =
        computation->kept(name_of_body(shown), [&] { return body_of(*stored, *computation, shown); });
    const std::string card =
        card_json(bench, stored->row, unit).dump(-1, ' ', false, Json::error_handler_t::replace);
    std::string text = "{\"job\":" + card + ",";
    text.reserve(text.size() + body.size());
    text.append(body, 1);
    return text;
}

}  // namespace seatwright::server
