// What the stages give: the page's state, single results, drawings, papers, and the why behind the numbers.
#include <fmt/format.h>

#include <map>

#include "drawings.hpp"
#include "pages.hpp"
#include "routes.hpp"
#include "seatwright/papers/bundle.hpp"
#include "shapes.hpp"
#include "state.hpp"
#include "why.hpp"

namespace seatwright::server {

namespace {

using job::Stage;
using store::Role;

std::shared_ptr<Computation> computation_of(Call& call, Workbench& bench) {
    return bench.desk.computation(bench.desk.source(call.number(1)), call.query("head"));
}

Stage stage_of(const std::string& name) {
    for (const Stage stage : {Stage::hold, Stage::find, Stage::shape, Stage::cut, Stage::prove})
        if (job::name_of(stage) == name) return stage;
    throw halt(404, "the stages are hold, find, shape, cut and prove");
}

LengthUnit unit_of(Call& call, const Computation& computation) {
    const LengthUnit own = computation.readable() ? computation.job().units : LengthUnit::mm;
    return call.query_units().value_or(own);
}

void drawing(Call& call, Workbench& bench) {
    const std::string file = call.part(2);
    constexpr std::string_view ending = ".svg";
    if (!std::string_view(file).ends_with(ending)) throw halt(404, "drawings end in .svg");
    const std::string name = file.substr(0, file.size() - ending.size());
    auto computation = computation_of(call, bench);
    const DrawingQuery query{call.query("setup"), call.query("kind"), call.query("valve"), call.query("what"),
                             unit_of(call, *computation)};
    const bool paper = call.query("form") == "paper";
    const auto tilt = call.query_real("tilt_deg"), swing = call.query_real("swing_deg");
    const auto svg = [&](Computation& made) {
        const auto drawn = draw(made, name, query);
        return paper ? drawn.document() : drawn.embedded();
    };
    std::string text;
    if (tilt || swing) {
        Overrides overrides;
        overrides.attitude = {query.setup, tilt ? std::optional(rad(*tilt)) : std::nullopt,
                              swing ? std::optional(rad(*swing)) : std::nullopt};
        const auto source = bench.desk.source(call.number(1));
        text = svg(*bench.desk.try_out(source, call.query("head"), overrides));
    } else {
        text = computation->kept(fmt::format("svg/{}/{}/{}", name, query.key(), paper),
                                 [&] { return svg(*computation); });
    }
    call.response().headers.erase("Content-Security-Policy");
    call.response().set_header("Content-Security-Policy", policy_of_svg(text));
    call.answer_text(200, text, "image/svg+xml");
}

std::string media_of(const std::string& file) {
    static const std::map<std::string, std::string> media{
        {"pdf", "application/pdf"}, {"csv", "text/csv; charset=utf-8"}, {"json", "application/json"}};
    const auto at = media.find(file.substr(file.rfind('.') + 1));
    return at == media.end() ? "text/plain; charset=utf-8" : at->second;
}

// The files of a bundle, each kept under its name, so that a sheet is drawn once.
std::string paper_text(Computation& computation, const std::string& file, LengthUnit unit) {
    papers::BundleOptions options;
    options.unit = unit;
    const std::string prefix = unit == LengthUnit::inch ? "paper/in/" : "paper/mm/";
    const bool proof = file == "certificate.pdf" || file == "proof.json" || file == "results.json";
    return computation.kept(prefix + file, [&]() -> std::string {
        const auto bundle = proof ? papers::proof_bundle(computation.job(), computation.proof(), options)
                                  : papers::plan_bundle(computation.job(), computation.whole(), options);
        if (!bundle) throw halt(422, "the papers could not be drawn: " + bundle.error());
        for (const auto& paper : bundle->files)
            if (paper.name == file) return paper.bytes;
        throw halt(404, "there is no such paper for this job");
    });
}

void paper(Call& call, Workbench& bench) {
    const std::string file = call.part(2);
    auto computation = computation_of(call, bench);
    computation->needs(Stage::hold);
    if (!computation->readable()) throw halt(422, "the job file cannot be read as it stands");
    const std::string bytes = paper_text(*computation, file, unit_of(call, *computation));
    call.response().set_header("Content-Disposition", fmt::format("inline; filename=\"{}\"", file));
    call.answer_text(200, bytes, media_of(file));
}

}  // namespace

void add_result_routes(Router& router, Workbench& bench) {
    router.add({"GET", "/api/jobs/{id}/state", Role::reader, [&](Call& call) {
                    call.answer_text(
                        200, state_text(bench, call.number(1), call.query("head"), call.query_units()),
                        "application/json");
                }});
    router.add({"GET", "/api/jobs/{id}/results/{stage}", Role::reader, [&](Call& call) {
                    const Stage stage = stage_of(call.part(2));
                    call.answer_text(200, computation_of(call, bench)->json(stage), "application/json");
                }});
    router.add(
        {"GET", "/api/jobs/{id}/drawings/{file}", Role::reader, [&](Call& call) { drawing(call, bench); }});
    router.add(
        {"GET", "/api/jobs/{id}/papers/{file}", Role::reader, [&](Call& call) { paper(call, bench); }});
    router.add({"GET", "/api/jobs/{id}/why/{stage}", Role::reader, [&](Call& call) {
                    found(bench.jobs.row(call.number(1)), "job");
                    call.answer(200, why_json(stage_of(call.part(2))));
                }});
}

}  // namespace seatwright::server
