// Surveys: heads being described at the machine. A survey is a document of its own with entries, as a job is.
#include "server/routes/surveys.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "server/answers/survey_state.hpp"
#include "server/intake/times.hpp"
#include "server/jobs/survey_text.hpp"

namespace seatwright::server {

namespace {

using store::Role;

store::SurveyRow survey_row(Call& call, Workbench& bench) {
    return found(store::Surveys(bench.database).row(call.number(1)), "survey");
}

store::NewSurveyEntry entry_of(const Json& body, const std::string& kind) {
    store::NewSurveyEntry e;
    e.client_key = text_field(body, "client_key");
    e.kind = kind;
    e.corrects = number_field_if(body, "corrects");
    e.withdrawn = flag_field(body, "withdrawn");
    if (const auto values = body.find("values"); values != body.end()) e.values = *values;
    if (const auto said = text_field_if(body, "made_at")) {
        e.said_ms = ms_of(*said);
        if (!e.said_ms) throw http_error(400, "made_at is a time such as 2026-01-31T12:34:56.789Z");
    }
    return e;
}

void tell(Workbench& bench, long long survey) {
    bench.events.publish(0, "survey", Json{{"survey", survey}}.dump());
}

void begin_survey(Call& call, Workbench& bench) {
    const Json body = call.json();
    const std::string title = text_field(body, "title");
    if (title.empty()) throw http_error(400, "what is the head called?");
    const auto units = units_named(text_field(body, "units"));
    if (!units) throw http_error(400, "units is in or mm");
    const auto first = entry_of(body, "head");
    if (!first.values.contains("cylinders")) throw http_error(400, "how many cylinders has the head?");
    store::SurveyRow none;
    none.title = title;
    none.units = *units;
    if (auto fault = fault_of_survey_entry(none, {}, first)) throw HttpError(*fault);
    const auto row = take(store::Surveys(bench.database).make(call.person(), title, *units, first));
    tell(bench, row.id);
    call.answer(201, survey_json(bench, row));
}

void record(Call& call, Workbench& bench) {
    const auto row = survey_row(call, bench);
    const Json body = call.json();
    const auto entry = entry_of(body, text_field(body, "kind"));
    const auto entries = store::Surveys(bench.database).entries(row.id);
    // What was stored before under the same client key is not judged again.
    const bool again = std::any_of(entries.begin(), entries.end(),
                                   [&](const auto& e) { return e.client_key == entry.client_key; });
    if (!again)
        if (auto fault = fault_of_survey_entry(row, entries, entry)) throw HttpError(*fault);
    const auto stored = take(store::Surveys(bench.database).append(call.person(), row.id, entry));
    if (!again) tell(bench, row.id);
    call.answer(again ? 200 : 201, to_json(stored, !stored.withdrawn));
}

void list(Call& call, Workbench& bench) {
    Json all = Json::array();
    for (const auto& row : store::Surveys(bench.database).rows()) all.push_back(to_json(row));
    call.answer(200, {{"surveys", std::move(all)}});
}

void file(Call& call, Workbench& bench) {
    const auto row = survey_row(call, bench);
    call.response().set_header("Content-Disposition",
                               fmt::format("attachment; filename=\"survey-{}.toml\"", row.id));
    call.answer_text(200, survey_file(bench, row), "application/toml");
}

}  // namespace

void add_survey_routes(Router& router, Workbench& bench) {
    router.add({"GET", "/api/surveys", Role::reader, [&](Call& call) { list(call, bench); }});
    router.add({"POST", "/api/surveys", Role::machinist, [&](Call& call) { begin_survey(call, bench); }});
    router.add({"GET", "/api/surveys/{survey}", Role::reader, [&](Call& call) {
                    call.answer(200, survey_json(bench, survey_row(call, bench), call.query_units()));
                }});
    router.add(
        {"POST", "/api/surveys/{survey}/entries", Role::machinist, [&](Call& call) { record(call, bench); }});
    router.add({"GET", "/api/surveys/{survey}/file", Role::reader, [&](Call& call) { file(call, bench); }});
}

}  // namespace seatwright::server
