// What the stages give: the page's state, single results, drawings, papers, and the why behind the numbers.
#include <fmt/format.h>

#include "seatwright/base/sha256.hpp"
#include "server/answers/drawings.hpp"
#include "server/answers/issued.hpp"
#include "server/answers/job_card.hpp"
#include "server/answers/job_state.hpp"
#include "server/answers/prepare.hpp"
#include "server/answers/store_json.hpp"
#include "server/answers/why.hpp"
#include "server/http/pages.hpp"
#include "server/jobs/replay.hpp"
#include "server/jobs/selection.hpp"
#include "server/routes/routes.hpp"

namespace seatwright::server {

namespace {

using job::Stage;
using store::Role;

struct ResultAsked {
    std::shared_ptr<const StoredJob> stored;
    std::shared_ptr<Computation> computation;
};

ResultAsked asked_of(Call& call, Workbench& bench) {
    ResultAsked asked;
    asked.stored = bench.cache.stored(call.number(1));
    asked.computation =
        bench.cache.computation(asked.stored, call.query("head"), selection_of(call, *asked.stored));
    return asked;
}

// What a stage gave when the entry of that number was acknowledged, worked out again.
void replay_stage(Call& call, Workbench& bench, Stage stage, long long entry) {
    const auto turn = bench.questions.take(call.person().id, call.asker_there());
    const auto stored = replayed(bench.database, call.number(1), entry);
    Computation then(stored->job, call.query("head"), nullptr, selection_of(call, *stored));
    call.answer_text(200, then.json(stage), "application/json");
}

std::shared_ptr<Computation> computation_of(Call& call, Workbench& bench) {
    return asked_of(call, bench).computation;
}

Stage stage_of(const std::string& name) {
    for (const Stage stage : {Stage::hold, Stage::find, Stage::shape, Stage::cut, Stage::prove})
        if (job::name_of(stage) == name) return stage;
    throw http_error(404, "the stages are hold, find, shape, cut and prove");
}

LengthUnit unit_of(Call& call, const Computation& computation) {
    const LengthUnit own = computation.readable() ? computation.job().units : LengthUnit::mm;
    return call.query_units().value_or(own);
}

// In place of the pages' own: nothing but the document's one style sheet.
void set_policy_of_svg(Call& call, const std::string& text) {
    call.response().set_header("Content-Security-Policy", policy_of_svg(text));
}

void drawing(Call& call, Workbench& bench) {
    const std::string file = call.part(2);
    constexpr std::string_view ending = ".svg";
    if (!std::string_view(file).ends_with(ending)) throw http_error(404, "drawings end in .svg");
    const std::string name = file.substr(0, file.size() - ending.size());
    auto computation = computation_of(call, bench);
    const DrawingQuery query = only_taken(name, {call.query("setup"), call.query("kind"), call.query("valve"),
                                                 call.query("what"), unit_of(call, *computation)});
    const bool paper = call.query("form") == "paper";
    const auto angle = [&](const std::string& which) {
        const auto given = call.query_real(which);
        return given ? std::optional(angle_within(*given, which)) : std::nullopt;
    };
    const auto tilt = angle("tilt_deg"), swing = angle("swing_deg");
    const auto svg = [&](Computation& made) {
        const auto drawn = draw(made, name, query);
        return paper ? drawn.document() : drawn.embedded();
    };
    std::string text;
    if (tilt || swing) {
        plan::Overrides overrides;
        overrides.attitude = {query.setup, tilt ? std::optional(rad(*tilt)) : std::nullopt,
                              swing ? std::optional(rad(*swing)) : std::nullopt};
        const auto turn = bench.questions.take(call.person().id, call.asker_there());
        const auto stored = bench.cache.stored(call.number(1));
        text = svg(*bench.cache.try_out(stored, call.query("head"), overrides));
    } else {
        text = computation->kept(fmt::format("svg/{}/{}/{}", name, query.key(), paper),
                                 [&] { return svg(*computation); });
    }
    set_policy_of_svg(call, text);
    call.answer_text(200, text, "image/svg+xml");
}

PaperQuery paper_query(Call& call, Workbench& bench, const ResultAsked& asked) {
    const store::Order order = bench.orders.of(asked.stored->row.id);
    return {unit_of(call, *asked.computation), paper_size_named(call.query("paper")),
            order_words(order, *asked.stored, call.query("head")),
            record_of(*asked.stored, bench.open_limits.of(asked.stored->row.id).has_value())};
}

constexpr std::size_t most_papers = 32;

// What a file says hangs on what is being worked out again.
void check_settled(Call& call, Workbench& bench) {
    if (!bench.recompute.is_again(call.number(1))) return;
    throw http_error(409, in_words(no_file_until_worked_out(), call.speech()));
}

std::string part_of(Call& call, const ResultAsked& asked) {
    return part_key(selection_of(call, *asked.stored));
}

void give_paper(Call& call, Workbench& bench) {
    check_settled(call, bench);
    const std::string file = call.part(2);
    const ResultAsked asked = asked_of(call, bench);
    const auto& computation = asked.computation;
    const PaperQuery query = paper_query(call, bench, asked);
    // What is only looked at on the page has not left.
    const bool leaves = call.query("look").empty() && !is_picture(file);
    const std::string bytes =
        leaves ? issued_bytes(bench, call.person(),
                              {asked.stored->row.id, call.query("head"), part_of(call, asked)}, *computation,
                              file, query)
               : paper_bytes(*computation, file, query);
    const std::string media = media_of_paper(file);
    if (leaves && is_program(*computation, file))
        bench.taken.note(call.person(), call.number(1), file, sha256(bytes));
    if (media == "image/svg+xml") set_policy_of_svg(call, bytes);
    call.response().set_header(
        "Content-Disposition",
        fmt::format("inline; filename=\"{}\"", name_taken_along(*computation, call.number(1), file)));
    call.answer_text(200, bytes, media);
}

// A page of the sheet is kept; what is printed is made each time.
void paper(Call& call, Workbench& bench) {
    if (is_picture(call.part(2))) return give_paper(call, bench);
    const auto turn = bench.questions.take(call.person().id, call.asker_there());
    give_paper(call, bench);
}

void start_prepare(Call& call, Workbench& bench) {
    check_settled(call, bench);
    const Json body = call.json();
    const long long job = call.number(1);
    found(bench.jobs.row(job), "job");
    Wanted wanted;
    wanted.head = text_field_if(body, "head").value_or("");
    wanted.unit = units_named(text_field_if(body, "units").value_or(""));
    wanted.size = paper_size_named(text_field_if(body, "paper").value_or(""));
    if (const auto papers = body.find("papers"); papers != body.end()) {
        if (!papers->is_array() || papers->size() > most_papers)
            throw http_error(400, fmt::format("papers is a list of at most {} names", most_papers));
        for (const auto& name : *papers) {
            if (!name.is_string()) throw http_error(400, "papers is a list of names");
            wanted.papers.push_back(name);
        }
    }
    // Worked out already: nothing to wait for.
    if (wanted.papers.empty() && bench.cache.knows(job, StateAsked{wanted.head, wanted.unit}.name())) {
        TaskState ready;
        ready.state = "finished";
        ready.sentence = "done";
        ready.job = job;
        return call.answer(202, to_json(ready));
    }
    const auto work = [&bench, job, wanted](TaskReport& report) {
        return prepare(bench, job, wanted, report);
    };
    call.answer(202, to_json(take(bench.tasks.start(call.person().id, TaskKind::prepare, work))));
}

void list_papers(Call& call, Workbench& bench) {
    const ResultAsked asked = asked_of(call, bench);
    call.answer(200, papers_json(*asked.computation, paper_query(call, bench, asked)));
}

void issue(Call& call, Workbench& bench) {
    const auto one = found(bench.issues.one(call.number(1), call.number(2)), "issue");
    // The name ends as the paper's does, so that whatever opens such a file opens this one.
    call.response().set_header("Content-Disposition", fmt::format("attachment; filename=\"{}-issue-{}-{}\"",
                                                                  one.paper.job, one.number, one.paper.file));
    call.answer_text(200, bench.issues.bytes(one), media_of_paper(one.paper.file));
}

}  // namespace

void add_result_routes(Router& router, Workbench& bench) {
    router.add({"GET", "/api/jobs/{id}/state", Role::reader, [&](Call& call) {
                    const StateAsked asked{call.query("head"), call.query_units()};
                    const std::string since = call.query("since");
                    const auto delta =
                        since.empty() ? std::nullopt : delta_text(bench, call.number(1), asked, since);
                    call.answer_text(200, delta ? *delta : state_text(bench, call.number(1), asked),
                                     "application/json");
                }});
    router.add({"GET", "/api/jobs/{id}/results/{stage}", Role::reader, [&](Call& call) {
                    const Stage stage = stage_of(call.part(2));
                    if (const auto entry = call.query_number("entry"))
                        return replay_stage(call, bench, stage, *entry);
                    call.answer_text(200, computation_of(call, bench)->json(stage), "application/json");
                }});
    router.add(
        {"GET", "/api/jobs/{id}/drawings/{file}", Role::reader, [&](Call& call) { drawing(call, bench); }});
    router.add({"GET", "/api/jobs/{id}/papers", Role::reader, [&](Call& call) { list_papers(call, bench); }});
    router.add(
        {"GET", "/api/jobs/{id}/papers/{file}", Role::reader, [&](Call& call) { paper(call, bench); }});
    router.add({"GET", "/api/jobs/{id}/issues", Role::reader, [&](Call& call) {
                    found(bench.jobs.row(call.number(1)), "job");
                    call.answer(200, issues_json(bench, call.number(1)));
                }});
    router.add(
        {"GET", "/api/jobs/{id}/issues/{issue}", Role::reader, [&](Call& call) { issue(call, bench); }});
    router.add(
        {"POST", "/api/jobs/{id}/prepare", Role::machinist, [&](Call& call) { start_prepare(call, bench); }});
    router.add({"GET", "/api/jobs/{id}/why/{stage}", Role::reader, [&](Call& call) {
                    found(bench.jobs.row(call.number(1)), "job");
                    call.answer(200, why_json(stage_of(call.part(2))));
                }});
}

}  // namespace seatwright::server
