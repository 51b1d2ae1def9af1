// Scans: a measured surface sent piece by piece, read as a task, looked at, and made a job of.
#include "server/routes/scans.hpp"

#include <fmt/format.h>

#include <filesystem>

#include "server/answers/job_card.hpp"
#include "server/answers/scan_state.hpp"
#include "server/answers/store_json.hpp"
#include "server/intake/import.hpp"

namespace seatwright::server {

namespace {

using store::Role;

// What the routes share; it lives as long as a route or a task holds it.
struct Desk {
    explicit Desk(Workbench& given)
        : bench(given),
          scans(given.database.dialect().is_server ? std::filesystem::temp_directory_path().string()
                                                   : given.folder) {}
    Workbench& bench;
    Scans scans;

    ScanStanding standing_of(Call& call) {
        return found(scans.standing(call.person().id, call.part(1)), "scan any more: send the file again");
    }
};

ScanAsked asked_of(const Call& call) {
    return {call.query("end_for_end") == "yes", call.query_units()};
}

void begin(Call& call, Desk& desk) {
    const Json body = call.json();
    const long long bytes = number_field(body, "bytes");
    if (bytes < 0) throw http_error(400, "bytes is how long the file is");
    const auto standing = take(
        desk.scans.begin(call.person().id, text_field(body, "file"), static_cast<unsigned long long>(bytes)));
    call.answer(201, scan_json(standing, {}));
}

void add_piece(Call& call, Desk& desk) {
    const auto at = call.query_number("at");
    if (!at || *at < 0) throw http_error(400, "at is the number of the piece's first byte, from 0");
    const std::string& piece = call.request().body;
    if (piece.empty()) throw http_error(400, "a piece of the file was wanted; this is empty");
    if (piece.size() > Scans::most_piece) throw http_error(413, "a piece has at most 8 MiB");
    const auto standing =
        take(desk.scans.add(call.person().id, call.part(1), static_cast<unsigned long long>(*at), piece));
    call.answer(200, {{"taken", standing.taken}});
}

void read(Call& call, const std::shared_ptr<Desk>& desk) {
    const auto standing = desk->standing_of(call);
    const auto units = units_named(text_field_if(call.json(), "units").value_or(std::string()));
    const long long person = call.person().id;
    const auto work = [desk, person, id = standing.id,
                       units](TaskReport& report) -> store::Answer<long long> {
        const auto done = desk->scans.read(person, id, units, report);
        if (!done) return tl::unexpected(done.error());
        return 0;
    };
    call.answer(202, to_json(take(desk->bench.tasks.start(person, TaskKind::import_, work))));
}

void drawing(Call& call, Desk& desk) {
    const auto drawn = scan_drawing(desk.standing_of(call), asked_of(call), call.query("valve"));
    call.answer_text(200, drawn.embedded(), "image/svg+xml");
}

// {end_for_end, said}.
void make_job(Call& call, Desk& desk) {
    const auto standing = desk.standing_of(call);
    const Json body = call.json();
    JobImport given;
    given.text = job_of_scan(desk.bench, standing, {flag_field(body, "end_for_end"), {}},
                             body.value("said", Json::object()), call.person().name);
    given.what = fmt::format("made the job from the scan {}", standing.file);
    given.keep_original = false;
    const auto row = take(import_job(desk.bench, call.person(), given));
    desk.scans.let_go(call.person().id, standing.id);
    desk.bench.publish(row.id, "version", {{"version", 1}});
    call.answer(201, job_json(desk.bench, *desk.bench.cache.stored(row.id), {}));
}

}  // namespace

void add_scan_routes(Router& router, Workbench& bench) {
    const auto desk = std::make_shared<Desk>(bench);
    const std::string all = "/api/scans", one = all + "/{scan}";
    const auto add = [&](const char* method, const std::string& path, void (*work)(Call&, Desk&),
                         Body body = Body::small) {
        router.add({method, path, Role::machinist, [desk, work](Call& call) { work(call, *desk); }, body});
    };
    add("POST", all, begin);
    add("GET", one,
        [](Call& call, Desk& here) { call.answer(200, scan_json(here.standing_of(call), asked_of(call))); });
    add("DELETE", one, [](Call& call, Desk& here) {
        if (!here.scans.let_go(call.person().id, call.part(1)))
            throw http_error(404, "there is no such scan");
        call.answer_nothing();
    });
    add("POST", one + "/pieces", add_piece, Body::bytes);
    router.add({"POST", one + "/read", Role::machinist, [desk](Call& call) { read(call, desk); }});
    add("GET", one + "/points", [](Call& call, Desk& here) {
        call.answer_text(200, scan_points(here.standing_of(call), asked_of(call)),
                         "application/octet-stream");
    });
    add("GET", one + "/drawing.svg", drawing);
    add("POST", one + "/job", make_job);
}

}  // namespace seatwright::server
