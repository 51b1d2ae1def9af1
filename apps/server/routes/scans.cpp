// Scans: a measured surface sent piece by piece, read as a task, looked at, and made a job of (routes/jobs).
#include "server/routes/scans.hpp"

#include "server/answers/scan_state.hpp"
#include "server/answers/store_json.hpp"

namespace seatwright::server {

namespace {

using store::Role;

ScanStanding standing_of(Call& call, Workbench& bench) {
    return found(bench.scans.standing(call.person().id, call.part(1)), "scan any more: send the file again");
}

ScanAsked asked_of(const Call& call) {
    return {call.query("end_for_end") == "yes", call.query_units()};
}

void begin(Call& call, Workbench& bench) {
    const Json body = call.json();
    const long long bytes = number_field(body, "bytes");
    if (bytes < 0) throw http_error(400, "bytes is how long the file is");
    const auto standing = take(bench.scans.begin(call.person().id, text_field(body, "file"),
                                                 static_cast<unsigned long long>(bytes)));
    call.answer(201, scan_json(standing, {}));
}

void add_piece(Call& call, Workbench& bench) {
    const auto at = call.query_number("at");
    if (!at || *at < 0) throw http_error(400, "at is the number of the piece's first byte, from 0");
    const std::string& piece = call.request().body;
    if (piece.empty()) throw http_error(400, "a piece of the file was wanted; this is empty");
    if (piece.size() > Scans::most_piece) throw http_error(413, "a piece has at most 8 MiB");
    const auto standing = take(
        bench.scans.add(call.person().id, call.part(1), static_cast<unsigned long long>(*at), piece));
    call.answer(200, {{"taken", standing.taken}});
}

void read(Call& call, Workbench& bench) {
    const auto standing = standing_of(call, bench);
    const auto units = units_named(text_field_if(call.json(), "units").value_or(std::string()));
    const long long person = call.person().id;
    const auto work = [&bench, person, id = standing.id,
                       units](TaskReport& report) -> store::Answer<long long> {
        const auto done = bench.scans.read(person, id, units, report);
        if (!done) return tl::unexpected(done.error());
        return 0;
    };
    call.answer(202, to_json(take(bench.tasks.start(person, TaskKind::scan, work))));
}

void drawing(Call& call, Workbench& bench) {
    const auto drawn = scan_drawing(standing_of(call, bench), asked_of(call), call.query("valve"));
    call.answer_text(200, drawn.embedded(), "image/svg+xml");
}

}  // namespace

void add_scan_routes(Router& router, Workbench& bench) {
    router.add({"POST", "/api/scans", Role::machinist, [&](Call& call) { begin(call, bench); }});
    router.add({"GET", "/api/scans/{scan}", Role::machinist, [&](Call& call) {
                    call.answer(200, scan_json(standing_of(call, bench), asked_of(call)));
                }});
    router.add({"DELETE", "/api/scans/{scan}", Role::machinist, [&](Call& call) {
                    if (!bench.scans.let_go(call.person().id, call.part(1)))
                        throw http_error(404, "there is no such scan");
                    call.answer_nothing();
                }});
    router.add({"POST", "/api/scans/{scan}/pieces", Role::machinist,
                [&](Call& call) { add_piece(call, bench); }, Body::file});
    router.add({"POST", "/api/scans/{scan}/read", Role::machinist, [&](Call& call) { read(call, bench); }});
    router.add({"GET", "/api/scans/{scan}/points", Role::machinist, [&](Call& call) {
                    call.answer_text(200, scan_points(standing_of(call, bench), asked_of(call)),
                                     "application/octet-stream");
                }});
    router.add({"GET", "/api/scans/{scan}/drawing.svg", Role::machinist,
                [&](Call& call) { drawing(call, bench); }});
}

}  // namespace seatwright::server
