// Castings: what is known of all heads from one mould.
#include "server/routes/castings.hpp"

#include <fmt/format.h>

#include "server/answers/castings.hpp"
#include "server/routes/routes.hpp"

namespace seatwright::server {

namespace {

using store::Role;

store::CastingRow casting_row(Call& call, Workbench& bench) {
    return found(store::Castings(bench.database).row(call.number(1)), "casting");
}

void tell(Workbench& bench) {
    bench.events.publish(0, "castings", "{}");
}

void list(Call& call, Workbench& bench) {
    Json all = Json::array();
    for (const auto& row : store::Castings(bench.database).rows()) all.push_back(casting_json(bench, row));
    call.answer(200, {{"castings", std::move(all)}});
}

// A casting's forms bring limits with them, by which each job made of it is judged.
void check_limits_are_a_leads(Call& call, Workbench& bench, std::optional<long long> job) {
    if (call.person().may(Role::lead)) return;
    if (!job)
        throw http_error(403, "a casting's file from elsewhere brings limits with it: a lead takes it in");
    if (const auto open = bench.open_limits.of(*job))
        throw http_error(403, fmt::format("the job came in with limits no lead has accepted ({}): they would "
                                          "become the casting's",
                                          *open));
}

void take_in_casting(Call& call, Workbench& bench) {
    const Json body = call.json();
    const auto job = number_field_if(body, "job");
    check_limits_are_a_leads(call, bench, job);
    const auto row = job ? casting_of_job(bench, call.person(), *job)
                         : imported_casting(bench, call.person(), text_field(body, "text"));
    tell(bench);
    call.answer(201, casting_json(bench, row));
}

void decide(Call& call, Workbench& bench) {
    const auto row = casting_row(call, bench);
    const Json body = call.json();
    if (!body.contains("accepted")) throw http_error(400, "accepted is missing");
    const auto now = decided(bench, call.person(), row, call.number(2), flag_field(body, "accepted"));
    tell(bench);
    call.answer(200, casting_json(bench, now));
}

void file(Call& call, Workbench& bench) {
    const auto row = casting_row(call, bench);
    call.response().set_header("Content-Disposition",
                               fmt::format("attachment; filename=\"casting-{}.toml\"", row.id));
    call.answer_text(200, casting_file(bench, row), "application/toml");
}

// Words, a photograph, the number cast on it: one or all of them.
void add_note(Call& call, Workbench& bench) {
    const auto row = casting_row(call, bench);
    const Json body = call.json();
    const CastingNote note{text_field_if(body, "words").value_or(""),
                           text_field_if(body, "jpeg").value_or(""), text_field_if(body, "number")};
    const auto now = noted(bench, call.person(), row, note);
    tell(bench);
    call.answer(201, casting_json(bench, now));
}

void photograph(Call& call, Workbench& bench) {
    call.answer_text(200, casting_photograph(bench, casting_row(call, bench), call.part(2)), "image/jpeg");
}

}  // namespace

void add_casting_routes(Router& router, Workbench& bench) {
    router.add({"GET", "/api/castings", Role::reader, [&](Call& call) { list(call, bench); }});
    router.add({"POST", "/api/castings", Role::machinist, [&](Call& call) { take_in_casting(call, bench); },
                Body::file});
    router.add({"GET", "/api/castings/{casting}/file", Role::reader, [&](Call& call) { file(call, bench); }});
    router.add({"POST", "/api/castings/{casting}/notes", Role::machinist,
                [&](Call& call) { add_note(call, bench); }});
    router.add({"GET", "/api/castings/{casting}/photographs/{file}", Role::reader,
                [&](Call& call) { photograph(call, bench); }});
    router.add({"POST", "/api/castings/{casting}/offers/{offer}", Role::lead,
                [&](Call& call) { decide(call, bench); }});
}

}  // namespace seatwright::server
