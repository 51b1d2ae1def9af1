#include "server/answers/state.hpp"

#include <fmt/format.h>

#include "seatwright/job/kind_word.hpp"
#include "server/answers/drawings.hpp"

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

Json overrides_json(const Source& source) {
    Json list = Json::array();
    for (std::size_t i = 0; i < source.entries.size(); ++i)
        if (source.entries[i].kind == store::EntryKind::override_ && source.resolution.standing[i].live)
            list.push_back(to_json(source.entries[i], source.resolution.standing[i]));
    return list;
}

// Of a job of a thousand heads these are megabytes: each is copied once.
void add_results(std::string& text, Computation& computation, std::span<const Stage> stages) {
    std::size_t size = 0;
    for (const Stage stage : stages)
        if (computation.needs(stage).empty()) size += computation.json(stage).size();
    constexpr std::size_t name_and_marks = 16;
    text.reserve(text.size() + size + name_and_marks * (stages.size() + 1));
    char before = '{';
    for (const Stage stage : stages) {
        (((text += before) += '"') += job::name_of(stage)) += "\":";
        if (computation.needs(stage).empty())
            text += computation.json(stage);
        else
            text += "null";
        before = ',';
    }
    text += stages.empty() ? "{}" : "}";
}

std::string name_of_body(LengthUnit unit) {
    return unit == LengthUnit::inch ? "state/in" : "state/mm";
}

// What belongs to the state of the job; the card, which also says who changed it last, stays outside.
std::string body_of(const Source& source, Computation& computation, LengthUnit unit) {
    Json conflicts = Json::array();
    for (const auto& conflict : source.resolution.conflicts) conflicts.push_back(to_json(conflict));
    Json body;
    body["heads"] = computation.readable() ? computation.job().heads() : std::vector<std::string>{};
    body["head"] = computation.head();
    body["stages"] = stages_json(source, computation, unit);
    body["warnings"] = warnings_json(computation.notices());
    body["conflicts"] = std::move(conflicts);
    body["overrides"] = overrides_json(source);
    body["drawings"] = drawings_json(computation);
    body["valves"] = valves_json(computation);
    body["faults"] = json_of(computation.faults());
    std::string text = body.dump(-1, ' ', false, Json::error_handler_t::replace);
    text.back() = ',';
    text += "\"results\":";
    add_results(text, computation, stages_shown);
    text += '}';
    return text;
}

}  // namespace

std::string results_text(Computation& computation, std::span<const Stage> stages) {
    std::string text;
    add_results(text, computation, stages);
    return text;
}

Json stages_json(const Source& source, Computation& computation, LengthUnit unit) {
    for (const Stage stage : stages_shown) computation.needs(stage);
    return stages_so_far_json(source, computation, unit);
}

Json stages_so_far_json(const Source& source, Computation& computation, LengthUnit unit) {
    Json stages = Json::object();
    const auto lines = computation.lines_so_far(unit);
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (!computation.asked_for(stages_shown[i])) continue;
        const auto& line = lines[i];
        stages[line.stage] = {{"mark", mark_of(source, line, computation.head())},
                              {"line", line.answer},
                              {"next", line.next},
                              {"needs", computation.needs(stages_shown[i])}};
    }
    return stages;
}

Json warnings_json(const Notices& notices) {
    Json list = Json::array();
    for (const auto& warning : notices.warnings) list.push_back(to_json(warning));
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

void warm_state(Workbench& bench, long long job) {
    const auto source = bench.desk.source(job);
    const auto computation = bench.desk.computation(source, "");
    computation->kept(name_of_body(source->units),
                      [&] { return body_of(*source, *computation, source->units); });
}

std::string state_text(Workbench& bench, long long job, const std::string& head,
                       std::optional<LengthUnit> unit) {
    bench.warmer.looked_at(job);
    const auto source = bench.desk.source(job);
    const auto computation = bench.desk.computation(source, head);
    const LengthUnit shown = unit.value_or(source->units);
    const std::string& body =
        computation->kept(name_of_body(shown), [&] { return body_of(*source, *computation, shown); });
    const std::string card =
        card_json(bench, source->row, unit).dump(-1, ' ', false, Json::error_handler_t::replace);
    std::string text = "{\"job\":" + card + ",";
    text.reserve(text.size() + body.size());
    text.append(body, 1);
    return text;
}

}  // namespace seatwright::server
