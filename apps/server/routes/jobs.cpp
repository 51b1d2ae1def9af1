// The Bench: jobs, new jobs, a job's document and its history.
#include <fmt/format.h>

#include "server/answers/prepare.hpp"
#include "server/answers/shapes.hpp"
#include "server/intake/examples.hpp"
#include "server/intake/intake.hpp"
#include "server/intake/questions.hpp"
#include "server/routes/routes.hpp"

namespace seatwright::server {

namespace {

using store::Role;

void bench_page(Call& call, Workbench& bench) {
    Json list = Json::array();
    for (const auto& row : bench.jobs.rows(call.query("archived") == "yes"))
        list.push_back(card_json(bench, row, call.query_units()));
    call.answer(200, {{"jobs", std::move(list)}});
}

Intake intake_of(const Json& body, const std::string& shop) {
    const std::string from = text_field(body, "from");
    Intake intake;
    if (from == "example") {
        const std::string name = text_field(body, "example");
        const auto example = found(example_named(name), "example");
        intake.text = example.text;
        intake.file = name + ".toml";
        intake.what = "made the job from the example " + name;
    } else if (from == "text") {
        intake.text = text_field(body, "text");
        intake.shop_text = text_field_if(body, "shop_text");
        intake.file = text_field_if(body, "file").value_or("job.toml");
        intake.what = "made the job from the file " + intake.file;
    } else if (from == "answers") {
        const auto answers = body.find("answers");
        if (answers == body.end()) throw halt(400, "answers is missing");
        intake.text = take(text_of_answers(*answers, shop));
        intake.what = "made the job from six answers";
        intake.keep_original = false;
    } else {
        throw halt(400, "from is example, text or answers");
    }
    return intake;
}

void start_large(Call& call, Workbench& bench, Intake intake) {
    const store::Person by = call.person();
    const auto work = [&bench, by,
                       intake = std::move(intake)](TaskReport& report) -> store::Answer<long long> {
        if (!report.progress(0, 1, "reading the file")) return store::refuse(store::Why::bad, "cancelled");
        const auto row = take_in(bench, by, intake, [&](std::size_t done, std::size_t total) {
            return report.progress(done, total, "storing its readings");
        });
        if (!row) return tl::unexpected(row.error());
        bench.ring(row->id, "version", {{"version", 1}});
        // The job is there; what follows only makes its page open at once.
        static_cast<void>(prepare(bench, row->id, {}, report));
        return row->id;
    };
    call.answer(202, to_json(take(bench.tasks.start(call.person().id, work))));
}

void new_job(Call& call, Workbench& bench) {
    Intake intake = intake_of(call.json(), bench.shelf.current().text);
    if (intake.text.size() > large_text) return start_large(call, bench, std::move(intake));
    const auto row = take(take_in(bench, call.person(), intake));
    bench.ring(row.id, "version", {{"version", 1}});
    call.answer(201, job_json(bench, *bench.desk.source(row.id), {}));
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
    const auto source = bench.desk.source(call.number(1));
    as_download(call, fmt::format("job-{}.toml", source->row.id));
    call.answer_text(200, text_of(*source), "application/toml");
}

void original(Call& call, Workbench& bench) {
    const std::string text = found(bench.jobs.original(call.number(1)), "imported file");
    as_download(call, fmt::format("job-{}-as-imported.toml", call.number(1)));
    call.answer_text(200, text, "application/toml");
}

void archive(Call& call, Workbench& bench) {
    const Json body = call.json();
    if (!body.contains("archived")) throw halt(400, "archived is missing");
    const bool archived = flag_field(body, "archived");
    const auto row = take(bench.jobs.archive(call.person(), call.number(1), archived));
    bench.ring(row.id, "archived", {{"archived", archived}});
    call.answer(200, card_json(bench, row, {}));
}

}  // namespace

void add_job_routes(Router& router, Workbench& bench) {
    router.add({"GET", "/api/jobs", Role::reader, [&](Call& call) { bench_page(call, bench); }});
    router.add({"POST", "/api/jobs", Role::machinist, [&](Call& call) { new_job(call, bench); }, Body::file});
    router.add({"GET", "/api/examples", Role::reader, [](Call& call) {
                    Json list = Json::array();
                    for (const auto& example : examples())
                        list.push_back({{"name", example.name}, {"title", example.title}});
                    call.answer(200, {{"examples", std::move(list)}});
                }});
    router.add({"GET", "/api/jobs/{id}", Role::reader, [&](Call& call) {
                    call.answer(200, job_json(bench, *bench.desk.source(call.number(1)), call.query_units()));
                }});
    router.add({"PATCH", "/api/jobs/{id}", Role::machinist, [&](Call& call) { archive(call, bench); }});
    router.add({"GET", "/api/jobs/{id}/versions", Role::reader, [&](Call& call) { versions(call, bench); }});
    router.add({"GET", "/api/jobs/{id}/versions/{version}", Role::reader,
                [&](Call& call) { one_version(call, bench); }});
    router.add({"GET", "/api/jobs/{id}/export", Role::reader, [&](Call& call) { export_job(call, bench); }});
    router.add({"GET", "/api/jobs/{id}/original", Role::reader, [&](Call& call) { original(call, bench); }});
}

}  // namespace seatwright::server
