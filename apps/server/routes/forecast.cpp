// How many heads of a job's batch will pass: for its page, which asks again on every drag, and as a paper.
#include "server/routes/forecast.hpp"

#include "server/answers/forecasts.hpp"
#include "server/answers/paper_files.hpp"

namespace seatwright::server {

namespace {

using store::Role;

// A drawing's room in mm of paper; the page says how wide its column is.
double room_of(const Json& rooms, const char* name, double otherwise) {
    constexpr double least = 40, most = 400;
    const auto at = rooms.find(name);
    if (at == rooms.end()) return otherwise;
    if (!at->is_number() || !(at->get<double>() >= least && at->get<double>() <= most))
        throw http_error(400, std::string("room.") + name + " is from 40 to 400 mm");
    return at->get<double>();
}

void batch(Call& call, Workbench& bench, Forecasts& forecasts) {
    const Json body = call.json();
    ForecastQuestion question;
    question.unit = units_named(text_field_if(body, "units").value_or("")).value_or(LengthUnit::mm);
    question.whole = flag_field(body, "whole");
    if (const auto tried = body.find("tried"); tried != body.end()) question.tried = *tried;
    if (const auto rooms = body.find("room"); rooms != body.end() && rooms->is_object()) {
        const ForecastRoom usual;
        question.room = {room_of(*rooms, "spread", usual.spread), room_of(*rooms, "lower", usual.lower),
                         room_of(*rooms, "causes", usual.causes), room_of(*rooms, "changes", usual.changes),
                         room_of(*rooms, "by_head", usual.by_head)};
    }
    const auto turn = bench.questions.take(call.person().id, call.asker_there());
    call.answer_text(200, forecasts.answer(call.number(1), question, [&turn] { turn.check(); }),
                     "application/json");
}

void paper(Call& call, Workbench& bench, Forecasts& forecasts) {
    const auto size = paper_size_named(call.query("paper"));
    const auto turn = bench.questions.take(call.person().id, call.asker_there());
    const std::string pdf =
        forecasts.paper(call.number(1), call.query_units(), size, [&turn] { turn.check(); });
    call.response().set_header("Content-Disposition",
                               "inline; filename=\"" + std::to_string(call.number(1)) + "-forecast.pdf\"");
    call.answer_text(200, pdf, "application/pdf");
}

}  // namespace

void add_forecast_routes(Router& router, Workbench& bench) {
    const auto forecasts = std::make_shared<Forecasts>(bench);
    router.add({"POST", "/api/jobs/{id}/forecast", Role::reader,
                [&bench, forecasts](Call& call) { batch(call, bench, *forecasts); }});
    router.add({"GET", "/api/jobs/{id}/forecast.pdf", Role::reader,
                [&bench, forecasts](Call& call) { paper(call, bench, *forecasts); }});
}

}  // namespace seatwright::server
