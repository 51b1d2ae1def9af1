// Changes of a job's document, each a new version: whole texts, single keys, undo and redo.
#include <fmt/format.h>

#include "seatwright/store/split.hpp"
#include "server/answers/job_card.hpp"
#include "server/answers/store_json.hpp"
#include "server/intake/edits.hpp"
#include "server/intake/permission.hpp"
#include "server/jobs/casting_text.hpp"
#include "server/routes/routes.hpp"

namespace seatwright::server {

namespace {

using store::Role;

constexpr std::size_t longest_what = 200;

// Each key says who may change it.
void check_who_may(Workbench& bench, const store::Person& person, const StoredJob& stored,
                   const std::string& after) {
    const auto refused =
        refusal_of_change(person, stored.version.text, after, bench.taken.first(stored.row.id));
    if (refused) throw http_error(403, *refused);
}

// A stored version can always be read; what cannot stays in the browser with its faults beside it.
void check_readable(Workbench& bench, const StoredJob& stored, const std::string& text) {
    if (text.size() > job::max_file_bytes) throw http_error(413, "a job file has at most 16 MiB");
    const auto read = read_with_shop(text, stored.shop_text, castings_of(bench.database));
    if (!read)
        throw http_error(400, "the job file cannot be read: " + to_line(read.error().front()), read.error());
    if (store::has_readings(text))
        throw http_error(400, "readings are recorded as entries, not written into the job file");
}

void answer_changed(Call& call, Workbench& bench, long long job, const store::Version& version) {
    bench.publish(job, "version", to_json(version));
    call.answer(200, job_json(bench, *bench.cache.stored(job), call.query_units()));
}

// `next.text` can be read: of one that cannot nobody could say which keys it changes.
void store_text(Call& call, Workbench& bench, const StoredJob& stored, const store::NewVersion& next) {
    check_who_may(bench, call.person(), stored, next.text);
    answer_changed(call, bench, stored.row.id, take(bench.jobs.change(call.person(), stored.row.id, next)));
}

std::string what_of(const Json& body, const std::string& otherwise) {
    std::string what = text_field_if(body, "what").value_or("");
    if (what.empty()) what = otherwise;
    if (what.size() > longest_what) what.resize(longest_what);
    return what;
}

std::string today() {
    return store::iso_day(store::now_ms());
}

void put_text(Call& call, Workbench& bench) {
    const Json body = call.json();
    const auto stored = bench.cache.stored(call.number(1));
    const std::string given = text_field(body, "text");
    check_readable(bench, *stored, given);
    const std::string text = take(signed_text(given, stored->version.text, call.person().name, today()));
    if (text != given) check_readable(bench, *stored, text);
    store_text(call, bench, *stored,
               {number_field(body, "version"), text, what_of(body, "changed the text")});
}

void edit(Call& call, Workbench& bench) {
    const Json body = call.json();
    const auto stored = bench.cache.stored(call.number(1));
    const auto edits = signed_by(edits_of(body), stored->version.text, call.person().name, today());
    const long long made_on = number_field(body, "version");
    // On another version the edits may mean something else: the store refuses, whatever the text.
    const bool current = stored->version.number == made_on;
    const std::string text = current ? take(edited(stored->version.text, edits)) : stored->version.text;
    check_readable(bench, *stored, text);
    store_text(call, bench, *stored, {made_on, text, what_of(body, said_of(edits))});
}

void step(Call& call, Workbench& bench, bool back) {
    const long long job = call.number(1), made_on = number_field(call.json(), "version");
    const auto stored = bench.cache.stored(job);
    const auto to = back ? stored->version.undo_to : stored->version.redo_to;
    if (to) check_who_may(bench, call.person(), *stored, found(bench.jobs.version(job, *to), "version").text);
    answer_changed(call, bench, job,
                   take(back ? bench.jobs.undo(call.person(), job, made_on)
                             : bench.jobs.redo(call.person(), job, made_on)));
}

}  // namespace

void add_change_routes(Router& router, Workbench& bench) {
    router.add(
        {"PUT", "/api/jobs/{id}", Role::machinist, [&](Call& call) { put_text(call, bench); }, Body::file});
    router.add({"POST", "/api/jobs/{id}/edits", Role::machinist, [&](Call& call) { edit(call, bench); }});
    router.add(
        {"POST", "/api/jobs/{id}/undo", Role::machinist, [&](Call& call) { step(call, bench, true); }});
    router.add(
        {"POST", "/api/jobs/{id}/redo", Role::machinist, [&](Call& call) { step(call, bench, false); }});
}

}  // namespace seatwright::server
