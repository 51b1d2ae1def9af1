#include "server/answers/job_state.hpp"

#include <fmt/format.h>

#include "seatwright/job/heads.hpp"
#include "seatwright/job/key_names.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/words/english_server.hpp"
#include "server/answers/drawings.hpp"
#include "server/answers/job_card.hpp"
#include "server/answers/state_parts.hpp"

namespace seatwright::server {

namespace {

using job::Stage;
constexpr std::array stages_shown{Stage::hold, Stage::find, Stage::shape, Stage::cut, Stage::prove};

std::string valves_text(const Computation& computation) {
    using report::as_json;
    report::JsonText list = report::JsonText::array();
    if (!computation.readable()) return list.text();
    for (const auto& v : computation.job().head.valves)
        list.push_back({{"id", v.id},
                        {"kind", job::kind_word(v.kind)},
                        {"cylinder", v.cylinder},
                        {"x_mm", as_json(v.seat.x())},
                        {"y_mm", as_json(v.seat.y())},
                        {"z_mm", as_json(v.seat.z())},
                        {"incline_deg", as_json(deg(v.incline))},
                        {"cant_deg", as_json(deg(v.cant))}});
    return std::move(list).text();
}

Json overrides_json(const StoredJob& stored) {
    Json list = Json::array();
    for (const std::size_t i : stored.words)
        if (stored.entries[i].kind == store::EntryKind::override_ && stored.resolution.standing[i].live)
            list.push_back(to_json(stored.entries[i], stored.resolution.standing[i]));
    return list;
}

// Of a job of a thousand heads these are megabytes: each is copied once.
void add_results(std::string& text, Computation& computation, std::span<const Stage> stages,
                 LengthUnit unit) {
    std::size_t size = 0;
    for (const Stage stage : stages)
        if (computation.needs(stage).empty()) size += computation.page_json(stage, unit).size();
    constexpr std::size_t name_and_marks = 16;
    text.reserve(text.size() + size + name_and_marks * (stages.size() + 1));
    char before = '{';
    for (const Stage stage : stages) {
        (((text += before) += '"') += job::name_of(stage)) += "\":";
        if (computation.needs(stage).empty())
            text += computation.page_json(stage, unit);
        else
            text += "null";
        before = ',';
    }
    text += stages.empty() ? "{}" : "}";
}

std::string part_text(const Json& json) {
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

// Of the head that is planned.
std::string walk_text(Computation& computation, LengthUnit unit) {
    if (!computation.readable()) return "[]";
    return report::text_of(computation.job(),
                           plan::walk_of(computation.job(), computation.plan(), computation.head()),
                           job::on_page(unit))
        .text();
}

std::string heads_text(const Computation& computation) {
    report::JsonText list = report::JsonText::array();
    if (computation.readable()) {
        const auto heads = job::known_heads(computation.job());  // const: not copied to be walked
        for (const std::string& head : heads) list.push_back(head);
    }
    return std::move(list).text();
}

void add_stage(StateParts& parts, Computation& computation, Stage stage, LengthUnit unit) {
    const std::string path = fmt::format("/results/{}", job::name_of(stage));
    if (!computation.needs(stage).empty()) {
        parts.push_back({path, "null"});
        return;
    }
    const auto extent = computation.asked_head().empty() ? report::Extent::whole : report::Extent::page;
    const auto keys = computation.keys(stage, extent, job::on_page(unit));
    for (const auto& [key, text] : *keys) parts.push_back({path + "/" + key, text});
}

StateParts parts_of(Workbench& bench, const StoredJob& stored, Computation& computation, LengthUnit unit,
                    std::optional<LengthUnit> asked_unit) {
    StateParts parts;
    const auto add = [&](const char* path, const Json& json) { parts.push_back({path, part_text(json)}); };
    const Json card = computation.asked_head().empty() ? card_json(bench, stored.row, asked_unit)
                                                       : open_card_json(stored, computation, unit);
    for (const auto& [key, value] : card.items()) add(("/job/" + key).c_str(), value);
    Json conflicts = Json::array();
    for (const auto& conflict : stored.resolution.conflicts) conflicts.push_back(to_json(conflict));
    add("/key", key_of(stored));
    parts.push_back({"/heads", heads_text(computation)});
    add("/head", computation.head());
    const Json stages = stages_json(stored, computation, unit);
    for (const auto& [stage, state] : stages.items()) add(("/stages/" + stage).c_str(), state);
    if (stages.empty()) add("/stages", stages);
    parts.push_back({"/warnings", computation.warnings_text(unit)});
    add("/conflicts", conflicts);
    add("/overrides", overrides_json(stored));
    add("/drawings", drawings_json(computation));
    parts.push_back({"/valves", valves_text(computation)});
    parts.push_back({"/walk", walk_text(computation, unit)});
    add("/faults", json_of(computation.faults()));
    for (const Stage stage : stages_shown) add_stage(parts, computation, stage, unit);
    return parts;
}

// What the page shows of a head in a unit; made once for a state of the job.
std::shared_ptr<const StateParts> parts_now(Workbench& bench, const std::shared_ptr<const StoredJob>& stored,
                                            const StateAsked& asked) {
    bool failed = false;
    const auto parts = bench.cache.parts(*stored, asked.name(), [&] {
        const auto computation = bench.cache.computation(stored, asked.head);
        auto made = std::make_shared<const StateParts>(
            parts_of(bench, *stored, *computation, asked.unit.value_or(stored->units), asked.unit));
        failed = computation->failed();
        return made;
    });
    if (failed) bench.cache.forget_parts(*stored, asked.name());  // another time may fare better
    return parts;
}

}  // namespace

std::string results_text(Computation& computation, std::span<const Stage> stages, LengthUnit unit) {
    std::string text;
    add_results(text, computation, stages, unit);
    return text;
}

namespace {

Json stages_of(const StoredJob& stored, Computation& computation, const std::vector<report::StageLine>& lines,
               LengthUnit unit) {
    Json stages = Json::object();
    for (std::size_t i = 0; i < lines.size(); ++i) {
        if (!computation.asked_for(stages_shown[i])) continue;
        const auto& line = lines[i];
        stages[line.stage] = {{"mark", mark_of(stored, line, computation.head())},
                              {"line", line.answer},
                              {"next", line.next},
                              {"frees", line.frees},
                              {"needs", in_words(computation.needs(stages_shown[i]), job::on_page(unit))}};
    }
    return stages;
}

}  // namespace

Json stages_json(const StoredJob& stored, Computation& computation, LengthUnit unit) {
    return stages_of(stored, computation, computation.lines(unit), unit);
}

Json stages_so_far_json(const StoredJob& stored, Computation& computation, LengthUnit unit) {
    return stages_of(stored, computation, computation.lines_so_far(unit), unit);
}

Json warnings_json(const Notices& notices, LengthUnit unit) {
    Json list = Json::array();
    for (const auto& warning : notices.warnings) list.push_back(report::json_of(warning, job::on_page(unit)));
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

std::string StateAsked::name() const {
    return fmt::format("{}/{}", !unit ? "own" : *unit == LengthUnit::inch ? "in" : "mm", head);
}

std::string key_of(const StoredJob& stored) {
    return fmt::format("{}.{}.{}", stored.row.version, stored.row.sequence, stored.shelf);
}

void recompute_state(Workbench& bench, long long job) {
    const auto stored = bench.cache.stored(job);
    auto states = bench.cache.asked_last(job);
    if (states.empty()) states.emplace_back();
    for (const StateAsked& asked : states) parts_now(bench, stored, asked);
}

std::string state_text(Workbench& bench, long long job, const StateAsked& asked) {
    bench.recompute.looked_at(job);
    bench.cache.note_asked(job, asked);
    return whole_of(*parts_now(bench, bench.cache.stored(job), asked));
}

Sentence no_file_until_worked_out() {
    return sentence<"no-file-until">("again"_is = sentence<"worked-out-again">());
}

std::optional<std::string> delta_text(Workbench& bench, long long job, const StateAsked& asked,
                                      const std::string& since) {
    bench.recompute.looked_at(job);
    if (bench.recompute.is_again(job))
        return fmt::format(R"({{"since":{0},"key":{0},"patch":[],"again":{1}}})", part_text(since),
                           part_text(in_words(sentence<"worked-out-again">(), {})));
    const auto stored = bench.cache.stored(job);
    const auto before = bench.cache.known_parts(job, since, asked.name());
    if (!before) return std::nullopt;
    const auto after = parts_now(bench, stored, asked);
    return fmt::format(R"({{"since":{},"key":{},"patch":{}}})", part_text(since), part_text(key_of(*stored)),
                       patch_of(*before, *after));
}

}  // namespace seatwright::server
