#include "server/answers/forecasts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "seatwright/batch/batch.hpp"
#include "seatwright/batch/draw_forecast.hpp"
#include "seatwright/batch/forecast_paper.hpp"
#include "seatwright/batch/forecast_words.hpp"
#include "seatwright/job/key_names.hpp"
#include "seatwright/job/kind_word.hpp"
#include "server/answers/job_state.hpp"

namespace seatwright::server {

namespace {

using forecast::Forecast;
using forecast::Prepared;

constexpr double most_clearance = 20;  // mm
constexpr int most_heads = 10'000;     // as forecast.heads
constexpr std::size_t most_drawn_changes = 5;

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

// None: the one that cuts these seats now.
std::optional<std::size_t> cutter_named(const job::Job& job, const Prepared& as, job::Kind kind,
                                        const Json& name) {
    if (name.is_string())
        for (const auto& offer : as.cutters) {
            if (offer.recut.kind != kind) continue;
            if (offer.from == name.get<std::string>()) return std::nullopt;
            if (job.cutters[offer.recut.cutter].name == name.get<std::string>()) return offer.recut.cutter;
        }
    throw http_error(
        400, fmt::format("tried.cutter.{} names no cutter of the shelf that makes the {} form within its "
                         "tolerances",
                         job::kind_word(kind), job::kind_word(kind)));
}

std::size_t gauge_named(const job::Job& job, prove::Quantity quantity, const Json& name) {
    if (name.is_string())
        for (std::size_t g = 0; g < job.gauges.size(); ++g)
            if (job.gauges[g].name == name.get<std::string>() && forecast::shelf_u(job.gauges[g], quantity))
                return g;
    throw http_error(
        400, fmt::format("tried.gauge.{} names no gauge of the shelf that reads it", prove::word(quantity)));
}

// An object of them by kind or quantity; null where nothing of the sort is tried.
const Json* named(const Json& tried, const char* what, const char* of) {
    const auto at = tried.find(what);
    if (at == tried.end() || at->is_null()) return nullptr;
    if (!at->is_object()) throw http_error(400, fmt::format("tried.{} is an object of {}", what, of));
    return &*at;
}

const Json* one_of(const Json* all, const char* name) {
    if (all == nullptr) return nullptr;
    const auto at = all->find(name);
    return at == all->end() || at->is_null() ? nullptr : &*at;
}

constexpr std::array quantities{prove::Quantity::runout, prove::Quantity::width,
                                prove::Quantity::stem_height};

forecast::Tried tried_of(const job::Job& job, const Prepared& as, const Json& tried) {
    forecast::Tried out;
    if (tried.is_null()) return out;
    if (!tried.is_object()) throw http_error(400, "tried is an object");
    out.post_clearance = clearance_of(tried);
    out.touches = whole_number(tried, "touches", 0, static_cast<int>(as.most_touches));
    out.heads = whole_number(tried, "heads", 1, most_heads);
    out.change_every = whole_number(tried, "change_every", 0, most_heads);
    const Json* const pilots = named(tried, "pilot", "intake and exhaust");
    const Json* const cutters = named(tried, "cutter", "intake and exhaust");
    for (const auto kind : job::both_kinds) {
        if (const Json* name = one_of(pilots, job::kind_word(kind)))
            out.pilot[kind] = pilot_named(job, as, kind, *name);
        if (const Json* name = one_of(cutters, job::kind_word(kind)))
            if (const auto cutter = cutter_named(job, as, kind, *name)) out.cutter[kind] = *cutter;
    }
    const Json* const gauges = named(tried, "gauge", "runout, width and stem_height");
    for (const auto quantity : quantities)
        if (const Json* name = one_of(gauges, prove::word(quantity)))
            out.gauge[quantity] = gauge_named(job, quantity, *name);
    return out;
}

Json pilots_on_offer(const job::Job& job, const Prepared& as) {
    Json out = Json::object();
    for (const auto kind : job::both_kinds) {
        Json names = Json::array();
        std::string now;
        for (const auto& offer : as.offers) {
            if (offer.kind != kind) continue;
            names.push_back(job.pilots[offer.pilot].name);
            now = offer.from;
        }
        if (!names.empty()) out[job::kind_word(kind)] = {{"now", now}, {"of", std::move(names)}};
    }
    return out;
}

Json cutters_on_offer(const job::Job& job, const Prepared& as) {
    Json out = Json::object();
    for (const auto& offer : as.cutters) {
        Json& of_kind = out[job::kind_word(offer.recut.kind)];
        if (of_kind.is_null()) of_kind = {{"now", offer.from}, {"of", Json::array({offer.from})}};
        of_kind["of"].push_back(job.cutters[offer.recut.cutter].name);
    }
    return out;
}

// Of each quantity that is judged; `now` is empty where what it is read with is not of the shelf.
Json gauges_on_offer(const job::Job& job, const Prepared& as) {
    Json out = Json::object();
    for (const auto quantity : quantities) {
        Json names = Json::array();
        for (const auto& gauge : job.gauges)
            if (forecast::shelf_u(gauge, quantity) &&
                std::find(names.begin(), names.end(), Json(gauge.name)) == names.end())
                names.push_back(gauge.name);
        if (!names.empty())
            out[prove::word(quantity)] = {
                {"now", as.collected.known.gauge_names[static_cast<std::size_t>(quantity)]},
                {"of", std::move(names)}};
    }
    return out;
}

// What can be tried, and how it stands now.
Json can_be_tried(const job::Job& job, const Prepared& as) {
    const auto& known = as.collected.known;
    const auto batch = forecast::batch_of(job, as.frame, known);
    std::size_t touches = 0;
    for (const auto& places : batch.places) touches = std::max(touches, places.touched.size());
    return {{"post_clearance_mm", known.position_sd ? Json() : Json(known.post_clearance)},
            {"touches", touches},
            {"most_touches", as.most_touches},
            {"heads", known.heads},
            {"change_every", known.change_every ? Json(*known.change_every) : Json()},
            {"wears", known.depth_wear != 0 || known.width_wear != 0},
            {"pilots", pilots_on_offer(job, as)},
            {"cutters", cutters_on_offer(job, as)},
            {"gauges", gauges_on_offer(job, as)}};
}

Json drawings_of(const Forecast& f, const ForecastRoom& room, const Speech& speech, bool whole) {
    Json spreads = Json::array();
    for (const auto& figure : f.characteristics) {
        const bool of_runout = figure.what == prove::word(prove::Quantity::runout);
        spreads.push_back(
            {{"what", figure.what},
             {"kind", job::kind_word(figure.kind)},
             {"svg",
              batch::draw_distribution(figure, of_runout ? room.spread : room.lower, speech).embedded()}});
    }
    Json out{
        {"spreads", std::move(spreads)},
        {"causes", batch::draw_forecast_causes(f.causes, room.causes, speech).embedded()},
        {"by_head", f.by_head.size() > 1 ? Json(batch::draw_by_head(f, room.by_head).embedded()) : Json()},
        {"changes", Json()}};
    if (whole)
        out["changes"] = batch::draw_forecast_changes(f, room.changes, speech, most_drawn_changes).embedded();
    return out;
}

Json cells_of(const Forecast& f, LengthUnit unit) {
    Json inputs = Json::array(), changes = Json::array();
    for (const auto& input : f.inputs) inputs.push_back(batch::input_cells(input, unit));
    for (const auto& change : f.changes)
        if (change.brings() > batch::gain_worth_telling)
            changes.push_back(batch::change_cells(change, {unit}));
    return {{"inputs", std::move(inputs)}, {"changes", std::move(changes)}};
}

}  // namespace

std::shared_ptr<Forecasts::LastBatch> Forecasts::batch_of(long long job) {
    return batches_.get(job, [] { return std::make_shared<LastBatch>(); });
}

void Forecasts::bring_up(LastBatch& batch, long long job, const std::function<void()>& check) {
    const auto stored = bench_.cache.stored(job);
    if (batch.stored == stored && batch.computation) return;
    const auto computation = bench_.cache.computation(stored, "");
    for (const auto stage : {job::Stage::hold, job::Stage::find, job::Stage::shape}) {
        if (check) check();
        const auto needs = computation->needs(stage);
        if (needs.empty()) continue;
        const auto words = in_words(needs, job::on_page(stored->units));
        HttpError lacking = http_error(422, words.front());
        lacking.body["needs"] = words;
        throw lacking;
    }
    for (const auto stage : {job::Stage::cut, job::Stage::prove}) {
        if (check) check();
        computation->needs(stage);
    }
    plan::Plan plan = computation->plan();
    batch.prepared = forecast::prepared(computation->job(), plan, computation->proof());
    batch.plan.emplace(std::move(plan));
    batch.whole.reset();
    batch.computation = computation;
    batch.stored = stored;
}

const Forecast& Forecasts::whole(LastBatch& batch, const std::function<void()>& check) {
    if (!batch.whole) {
        batch.whole = forecast::forecast(batch.computation->job(), *batch.plan, batch.prepared, batch.tables,
                                         {}, {false, check});
    }
    return *batch.whole;
}

std::string Forecasts::answer(long long job, const ForecastQuestion& question,
                              const std::function<void()>& check) {
    const auto kept = batch_of(job);
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
            read, *kept->plan,
            forecast::with(read, *kept->plan, kept->prepared, tried_of(read, kept->prepared, question.tried)),
            kept->tables, asked, {!question.whole, check});
    }
    if (check) check();
    const Speech speech = job::on_page(question.unit);
    Json result = report::json_frame(read, made);
    result.update(batch::json_of(read, made));
    const Json out{
        {"version", kept->stored->row.version},
        {"sequence", kept->stored->row.sequence},
        {"whole", question.whole},
        {"result", std::move(result)},
        {"sentences", in_words(batch::forecast_sentences(read, made), speech)},
        {"next", question.whole ? Json(in_words(batch::best_change(made, question.unit), speech)) : Json()},
        {"warnings", warnings_json(made, question.unit)},
        {"assumptions", in_words(made.assumptions, speech)},
        {"cells", cells_of(made, question.unit)},
        {"tryable", can_be_tried(read, kept->prepared)},
        {"drawings", question.room ? drawings_of(made, *question.room, speech, question.whole) : Json()}};
    return out.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string Forecasts::paper(long long job, std::optional<LengthUnit> unit, const papers::PaperSize& size,
                             const std::function<void()>& check) {
    const auto kept = batch_of(job);
    const std::lock_guard<std::mutex> lock(kept->mutex);
    bring_up(*kept, job, check);
    const job::Job& read = kept->computation->job();
    const auto pdf = batch::forecast_pdf(read, whole(*kept, check), {size, unit.value_or(read.units)});
    if (!pdf) throw http_error(500, pdf.error());
    return *pdf;
}

}  // namespace seatwright::server
