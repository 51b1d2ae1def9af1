#include "server/answers/forecasts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/papers/drawings/draw_forecast.hpp"
#include "seatwright/papers/forecast_paper.hpp"
#include "seatwright/report/forecast_words.hpp"
#include "seatwright/report/report.hpp"
#include "server/answers/job_state.hpp"

namespace seatwright::server {

namespace {

using forecast::Forecast;
using forecast::Prepared;

constexpr double most_clearance = 20;  // mm
constexpr int most_heads = 10'000;     // as forecast.heads
constexpr std::size_t most_drawn_changes = 6;

std::optional<int> whole_number(const Json& of, const char* name, int least, int most) {
    const auto at = of.find(name);
    if (at == of.end() || at->is_null()) return std::nullopt;
    const double value = at->is_number() ? at->get<double>() : std::nan("");
    if (!(value >= least && value <= most) || value != std::floor(value))
        throw http_error(400, fmt::format("tried.{} is a whole number from {} to {}", name, least, most));
    return static_cast<int>(value);
}

std::optional<double> clearance_of(const Json& tried) {
    const auto at = tried.find("post_clearance_mm");
    if (at == tried.end() || at->is_null()) return std::nullopt;
    const double value = at->is_number() ? at->get<double>() : std::nan("");
    if (!(value >= 0 && value <= most_clearance))
        throw http_error(
            400, fmt::format("tried.post_clearance_mm is a length from 0 to {:g} mm", most_clearance));
    return value;
}

std::size_t pilot_named(const job::Job& job, const Prepared& as, job::Kind kind, const Json& name) {
    if (name.is_string())
        for (const auto& offer : as.offers)
            if (offer.kind == kind && job.pilots[offer.pilot].name == name.get<std::string>())
                return offer.pilot;
    throw http_error(400, fmt::format("tried.pilot.{} names no pilot of the shelf that suits every {} guide",
                                      job::kind_word(kind), job::kind_word(kind)));
}

forecast::Tried tried_of(const job::Job& job, const Prepared& as, const Json& tried) {
    forecast::Tried out;
    if (tried.is_null()) return out;
    if (!tried.is_object()) throw http_error(400, "tried is an object");
    out.post_clearance = clearance_of(tried);
    out.touches = whole_number(tried, "touches", 0, static_cast<int>(as.most_touches));
    out.heads = whole_number(tried, "heads", 1, most_heads);
    out.change_every = whole_number(tried, "change_every", 0, most_heads);
    const auto pilots = tried.find("pilot");
    if (pilots == tried.end() || pilots->is_null()) return out;
    if (!pilots->is_object()) throw http_error(400, "tried.pilot is an object of intake and exhaust");
    for (const auto kind : job::both_kinds)
        if (const auto at = pilots->find(job::kind_word(kind)); at != pilots->end() && !at->is_null())
            out.pilot[kind] = pilot_named(job, as, kind, *at);
    return out;
}

// What can be tried, and how it stands now.
Json can_be_tried(const job::Job& job, const Prepared& as) {
    const auto& known = as.collected.known;
    const auto batch = forecast::batch_of(job, as.frame, known);
    std::size_t touches = 0;
    for (const auto& places : batch.places) touches = std::max(touches, places.touched.size());
    Json pilots = Json::object();
    for (const auto kind : job::both_kinds) {
        Json names = Json::array();
        std::string now;
        for (const auto& offer : as.offers) {
            if (offer.kind != kind) continue;
            names.push_back(job.pilots[offer.pilot].name);
            now = offer.from;
        }
        if (!names.empty()) pilots[job::kind_word(kind)] = {{"now", now}, {"of", std::move(names)}};
    }
    return {{"post_clearance_mm", known.position_sd ? Json() : Json(known.post_clearance)},
            {"touches", touches},
            {"most_touches", as.most_touches},
            {"heads", known.heads},
            {"change_every", known.change_every ? Json(*known.change_every) : Json()},
            {"wears", known.depth_wear != 0 || known.width_wear != 0},
            {"pilots", std::move(pilots)}};
}

Json drawings_of(const Forecast& f, const ForecastRoom& room, LengthUnit unit, bool whole) {
    Json spreads = Json::array();
    for (const auto& figure : f.characteristics)
        spreads.push_back({{"what", figure.what},
                           {"kind", job::kind_word(figure.kind)},
                           {"svg", papers::draw_distribution(figure, room.spread, unit).embedded()}});
    Json out{
        {"spreads", std::move(spreads)},
        {"causes", papers::draw_forecast_causes(f.causes, room.causes, unit).embedded()},
        {"by_head", f.by_head.size() > 1 ? Json(papers::draw_by_head(f, room.by_head).embedded()) : Json()},
        {"changes", Json()}};
    if (whole)
        out["changes"] = papers::draw_forecast_changes(f, room.changes, unit, most_drawn_changes).embedded();
    return out;
}

Json cells_of(const Forecast& f, LengthUnit unit) {
    Json inputs = Json::array(), changes = Json::array();
    for (const auto& input : f.inputs) inputs.push_back(report::input_cells(input, unit));
    for (const auto& change : f.changes)
        if (change.brings() > report::gain_worth_telling)
            changes.push_back(report::change_cells(change, unit));
    return {{"inputs", std::move(inputs)}, {"changes", std::move(changes)}};
}

}  // namespace

std::shared_ptr<Forecasts::Memory> Forecasts::memory(long long job) {
    return memories_.get(job, [] { return std::make_shared<Memory>(); });
}

void Forecasts::bring_up(Memory& memory, long long job, const std::function<void()>& check) {
    const auto stored = bench_.cache.stored(job);
    if (memory.stored == stored && memory.computation) return;
    const auto computation = bench_.cache.computation(stored, "");
    for (const auto stage : {job::Stage::hold, job::Stage::find, job::Stage::shape}) {
        if (check) check();
        const auto needs = computation->needs(stage);
        if (needs.empty()) continue;
        HttpError lacking = http_error(422, needs.front());
        lacking.body["needs"] = needs;
        throw lacking;
    }
    for (const auto stage : {job::Stage::cut, job::Stage::prove}) {
        if (check) check();
        computation->needs(stage);
    }
    plan::Plan plan = computation->plan();
    memory.prepared = forecast::prepared(computation->job(), plan, computation->proof());
    memory.plan.emplace(std::move(plan));
    memory.whole.reset();
    memory.computation = computation;
    memory.stored = stored;
}

const Forecast& Forecasts::whole(Memory& memory, const std::function<void()>& check) {
    if (!memory.whole) {
        memory.whole = forecast::forecast(memory.computation->job(), *memory.plan, memory.prepared,
                                          memory.tables, {}, {false, check});
    }
    return *memory.whole;
}

std::string Forecasts::answer(long long job, const ForecastQuestion& question,
                              const std::function<void()>& check) {
    const auto kept = memory(job);
    const std::lock_guard<std::mutex> lock(kept->mutex);
    bring_up(*kept, job, check);
    const job::Job& read = kept->computation->job();
    Forecast made;
    if (question.whole && question.tried.is_null()) {
        made = whole(*kept, check);
    } else {
        forecast::Asked asked;
        asked.changes = asked.limits = question.whole;
        made = forecast::forecast(
            read, *kept->plan, forecast::with(kept->prepared, tried_of(read, kept->prepared, question.tried)),
            kept->tables, asked, {!question.whole, check});
    }
    if (check) check();
    Json result = report::json_frame(read, made);
    result.update(report::json_of(read, made));
    const Json out{
        {"version", kept->stored->row.version},
        {"sequence", kept->stored->row.sequence},
        {"whole", question.whole},
        {"result", std::move(result)},
        {"sentences", report::forecast_sentences(read, made)},
        {"next", question.whole ? Json(report::best_change_sentence(made, question.unit)) : Json()},
        {"warnings", warnings_json(made, question.unit)},
        {"cells", cells_of(made, question.unit)},
        {"tryable", can_be_tried(read, kept->prepared)},
        {"drawings",
         question.room ? drawings_of(made, *question.room, question.unit, question.whole) : Json()}};
    return out.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string Forecasts::paper(long long job, std::optional<LengthUnit> unit, const papers::PaperSize& size,
                             const std::function<void()>& check) {
    const auto kept = memory(job);
    const std::lock_guard<std::mutex> lock(kept->mutex);
    bring_up(*kept, job, check);
    const job::Job& read = kept->computation->job();
    const auto pdf = papers::forecast_pdf(read, whole(*kept, check), {size, unit.value_or(read.units)});
    if (!pdf) throw http_error(500, pdf.error());
    return *pdf;
}

}  // namespace seatwright::server
