// The Bench: jobs, new jobs, a job's document and its history.
#include <fmt/format.h>

#include "server/answers/castings.hpp"
#include "server/answers/job_card.hpp"
#include "server/answers/prepare.hpp"
#include "server/answers/store_json.hpp"
#include "server/answers/survey_state.hpp"
#include "server/intake/drawn_job.hpp"
#include "server/intake/edits.hpp"
#include "server/intake/examples.hpp"
#include "server/intake/import.hpp"
#include "server/intake/six_answers.hpp"
#include "server/jobs/replay.hpp"
#include "server/routes/routes.hpp"

namespace seatwright::server {

namespace {

using store::Role;

void bench_page(Call& call, Workbench& bench) {
    Json list = Json::array();
    const auto orders = bench.orders.of_all();
    const store::Order nothing;
    for (const auto& row : bench.jobs.rows(call.query("archived") == "yes")) {
        const auto order = orders.find(row.id);
        list.push_back(
            card_json(bench, row, call.query_units(), order == orders.end() ? nothing : order->second));
    }
    call.answer(200, {{"jobs", std::move(list)}});
}

JobImport import_of(const Json& body, Workbench& bench, const store::Person& by) {
    const std::string from = text_field(body, "from");
    JobImport given;
    if (from == "example") {
        const std::string name = text_field(body, "example");
        const auto example = found(example_named(name), "example");
        given.text = example.text;
        given.file = name + ".toml";
        given.what = "made the job from the example " + name;
    } else if (from == "text") {
        given.text = text_field(body, "text");
        given.shop_text = text_field_if(body, "shop_text");
        given.file = text_field_if(body, "file").value_or("job.toml");
        given.what = "made the job from the file " + given.file;
        given.from_outside = true;
    } else if (from == "answers") {
        const auto answers = body.find("answers");
        if (answers == body.end()) throw http_error(400, "answers is missing");
        // What was said to be right is this person's word.
        given.text = take(signed_text(take(text_of_answers(*answers, bench.shelf.current().text)), {},
                                      by.name, store::iso_day(store::now_ms())));
        given.what = "made the job from six answers";
        given.keep_original = false;
    } else if (from == "survey") {
        const auto row = found(store::Surveys(bench.database).row(number_field(body, "survey")), "survey");
        given.text = job_of_survey(bench, row, body.value("sizes", Json::object()));
        given.what = fmt::format("made the job from survey {}, {}", row.id, row.title);
        given.keep_original = false;
    } else if (from == "drawing") {
        given.text = job_of_drawing(body, bench.shelf.current().text);
        given.what = fmt::format("made the job from the drawing {}", text_field(body, "file"));
        given.keep_original = false;
    } else if (from == "casting") {
        const std::string name = text_field(body, "casting");
        const auto row = found(store::Castings(bench.database).named(name), "casting");
        given.text = job_of_casting(bench, row);
        given.what = fmt::format("made the job from the casting {}", name);
        given.keep_original = false;
    } else {
        throw http_error(400, "from is example, text, answers, survey, drawing or casting");
    }
    return given;
}

void start_large(Call& call, Workbench& bench, JobImport given) {
    const store::Person by = call.person();
    const auto work = [&bench, by, given = std::move(given)](TaskReport& report) -> store::Answer<long long> {
        if (!report.progress(0, 1, "reading the file")) return store::refuse(store::Why::bad, "cancelled");
        const auto row = import_job(bench, by, given, [&](std::size_t done, std::size_t total) {
            return report.progress(done, total, "storing its readings");
        });
        if (!row) return tl::unexpected(row.error());
        bench.publish(row->id, "version", {{"version", 1}});
        // The job is there; what follows only makes its page open at once.
        static_cast<void>(prepare(bench, row->id, {}, report));
        return row->id;
    };
    call.answer(202, to_json(take(bench.tasks.start(call.person().id, TaskKind::import_, work))));
}

void make_job(Call& call, Workbench& bench) {
    const Json body = call.json();
    JobImport given = import_of(body, bench, call.person());
    if (given.text.size() > large_text) return start_large(call, bench, std::move(given));
    const auto row = take(import_job(bench, call.person(), given));
    if (text_field(body, "from") == "survey")
        store::Surveys(bench.database).made_job(call.person(), number_field(body, "survey"), row.id);
    bench.publish(row.id, "version", {{"version", 1}});
    call.answer(201, job_json(bench, *bench.cache.stored(row.id), {}));
}

void versions(Call& call, Workbench& bench) {
    found(bench.jobs.row(call.number(1)), "job");
    Json list = Json::array();
    for (const auto& version : bench.jobs.versions(call.number(1))) list.push_back(to_json(version));
    call.answer(200, {{"versions", std::move(list)}});
}

void one_version(Call& call, Workbench& bench) {
    const auto version = found(bench.jobs.version(call.number(1), call.number(2)), "version");
    Json json = to_json(version);
    json["text"] = version.text;
    call.answer(200, json);
}

void as_download(Call& call, const std::string& name) {
    call.response().set_header("Content-Disposition", fmt::format("attachment; filename=\"{}\"", name));
}

void export_job(Call& call, Workbench& bench) {
    // As it is, or as it stood when the entry of that number was acknowledged.
    const auto entry = call.query_number("entry");
    const auto stored =
        entry ? replayed(bench.database, call.number(1), *entry) : bench.cache.stored(call.number(1));
    as_download(call,
                fmt::format("job-{}{}.toml", stored->row.id, entry ? fmt::format("-entry-{}", *entry) : ""));
    call.answer_text(200, text_of(*stored), "application/toml");
}

void original(Call& call, Workbench& bench) {
    const std::string text = found(bench.jobs.original(call.number(1)), "imported file");
    as_download(call, fmt::format("job-{}-as-imported.toml", call.number(1)));
    call.answer_text(200, text, "application/toml");
}

void archive(Call& call, Workbench& bench) {
    const Json body = call.json();
    if (!body.contains("archived")) throw http_error(400, "archived is missing");
    const bool archived = flag_field(body, "archived");
    const auto row = take(bench.jobs.archive(call.person(), call.number(1), archived));
    bench.publish(row.id, "archived", {{"archived", archived}});
    call.answer(200, card_json(bench, row, {}));
}

}  // namespace

void add_job_routes(Router& router, Workbench& bench) {
    router.add({"GET", "/api/jobs", Role::reader, [&](Call& call) { bench_page(call, bench); }});
    router.add(
        {"POST", "/api/jobs", Role::machinist, [&](Call& call) { make_job(call, bench); }, Body::file});
    router.add({"GET", "/api/examples", Role::reader, [](Call& call) {
                    Json list = Json::array();
                    for (const auto& example : examples())
                        list.push_back({{"name", example.name}, {"title", example.title}});
                    call.answer(200, {{"examples", std::move(list)}});
                }});
    router.add({"GET", "/api/jobs/{id}", Role::reader, [&](Call& call) {
                    call.answer(200,
                                job_json(bench, *bench.cache.stored(call.number(1)), call.query_units()));
                }});
    router.add({"PATCH", "/api/jobs/{id}", Role::machinist, [&](Call& call) { archive(call, bench); }});
    router.add({"POST", "/api/jobs/{id}/limits", Role::lead, [&](Call& call) {
                    const long long job = call.number(1);
                    take(bench.open_limits.accept(call.person(), job));
                    bench.publish(job, "version", to_json(bench.cache.stored(job)->version));
                    call.answer(200, job_json(bench, *bench.cache.stored(job), {}));
                }});
    router.add({"GET", "/api/jobs/{id}/versions", Role::reader, [&](Call& call) { versions(call, bench); }});
    router.add({"GET", "/api/jobs/{id}/versions/{version}", Role::reader,
                [&](Call& call) { one_version(call, bench); }});
    router.add({"GET", "/api/jobs/{id}/export", Role::reader, [&](Call& call) { export_job(call, bench); }});
    router.add({"GET", "/api/jobs/{id}/original", Role::reader, [&](Call& call) { original(call, bench); }});
}

}  // namespace seatwright::server
