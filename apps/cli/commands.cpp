#include "cli/commands.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "cli/load.hpp"
#include "cli/paper_set.hpp"
#include "cli/say.hpp"
#include "seatwright/job/keys.hpp"
#include "seatwright/papers/bundle.hpp"
#include "seatwright/papers/forecast_paper.hpp"
#include "seatwright/report/keys_json.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/so_far.hpp"
#include "server/progress_line.hpp"

namespace seatwright::cli {

namespace {

using job::Stage;
using server::with_progress_line;

// In the unit asked for, else the job's.
report::TextStyle text_style(const job::Job& job, const Asked& asked) {
    return {table_style(), asked.unit.value_or(job.units)};
}

int status_of(const Notices& notices) {
    return plan::blocked(notices) ? exit_stopped : exit_done;
}

template <class Result>
int report(const job::Job& job, const Notices& notices, const Result& result, const Asked& asked) {
    if (asked.json) {
        auto json = report::json_frame(job, notices);
        report::join(json, report::json_of(job, result));
        say_json(json);
    } else {
        const auto style = text_style(job, asked);
        say(report::warnings_text(notices, style.speech(), style.table));
        if (!notices.warnings.empty()) say("\n");
        say(report::text_of(job, result, style));
        if (!notices.assumptions.empty()) {
            say("\n" + report::heading_text("Assumptions", style.table));
            say(report::assumptions_text(notices, style.speech(), style.table));
        }
    }
    return status_of(notices);
}

std::vector<Stage> stages_up_to(Stage last) {
    if (last == Stage::prove) return {Stage::prove};
    std::vector<Stage> out;
    for (const auto s : {Stage::hold, Stage::find, Stage::shape, Stage::cut}) {
        out.push_back(s);
        if (s == last) break;
    }
    return out;
}

int say_failures(const plan::Run& run) {
    for (const auto& failure : run.failures())
        fmt::print(stderr, "seatwright: {}: {}\n", failure.words(), failure.what);
    return exit_ours;
}

// What stands of these stages, and what does not; no paper is written.
int tell_failures(const plan::Run& run, const std::vector<Stage>& stages, const Asked& asked) {
    if (asked.json) {
        say_json(report::json_so_far(run));
    } else {
        auto lines = report::brief_so_far(run, {asked.unit.value_or(run.job().units)}, run.head());
        std::erase_if(lines, [&](const report::StageLine& line) {
            return std::find(stages.begin(), stages.end(), job::stage_named(line.stage)) == stages.end();
        });
        say(report::text_of(run.job(), lines, report::notices_so_far(run), text_style(run.job(), asked)));
    }
    return say_failures(run);
}

tl::expected<Replaced, std::string> write_papers(const papers::Bundle& bundle, const char* what,
                                                 const std::string& folder) {
    PaperSet set{what, bundle.digest, {}};
    for (const auto& paper : bundle.files)
        set.files.push_back(
            {paper.name, paper.bytes,
             paper.role == papers::Paper::Role::program ? PaperRole::program : PaperRole::paper});
    return replace_set(folder, set);
}

// Prints the JSON or the text of a bundle and writes its papers if a folder was named.
int deliver(const papers::Bundle& bundle, const char* what, const Asked& asked) {
    if (!asked.out.empty()) {
        const auto written = write_papers(bundle, what, asked.out);
        if (!written) {
            fmt::print(stderr, "--out: {}\n", written.error());
            return exit_input;
        }
        for (const auto& kept : written->kept)
            fmt::print(stderr, "{}: a file there was not as it had been written; it is kept as {}\n",
                       asked.out, kept);
    }
    if (asked.json)
        say(bundle.json);
    else {
        say(bundle.text);
        if (!asked.out.empty()) {
            say(fmt::format("\nPapers in {}:\n", asked.out));
            for (const auto& paper : bundle.files) say(fmt::format("  {}\n", paper.name));
        }
    }
    return bundle.stopped ? exit_stopped : exit_done;
}

}  // namespace

int check(const Asked& asked) {
    const auto job = load(asked.job);
    if (!job) return exit_input;
    if (const Faults unknown = job::not_on_shelf(*job); !unknown.empty()) {
        print_faults(unknown);
        return exit_input;
    }
    const auto heads = job->heads();
    const auto& r = job->readings;
    say(fmt::format(
        "{}: no faults\n{}: {} valves; readings of {} head{}: {} touches, {} levels, {} guides, {} seats "
        "before, {} after cutting\n",
        asked.job, job->title.empty() ? job->head.name : job->title, job->head.valves.size(), heads.size(),
        heads.size() == 1 ? "" : "s", r.touches.size(), r.levels.size(), r.guides.size(), r.seats.size(),
        r.proofs.size()));
    for (const auto stage : {Stage::hold, Stage::find, Stage::shape, Stage::cut})
        for (const auto& fault : job::needs(*job, stage))
            say(fmt::format("still missing for {}: {}: {}\n", job::name_of(stage), fault.key, fault.text));
    return exit_done;
}

int reference() {
    say(job::key_reference_markdown());
    return exit_done;
}

int keys() {
    say(report::keys_json().dump(1) + "\n");
    return exit_done;
}

int stage(const std::string& name, const Asked& asked) {
    const Stage last = job::stage_named(name);
    auto job = load_for(asked, stages_up_to(last));
    if (!job) return exit_input;
    plan::Run run(std::make_shared<const job::Job>(std::move(*job)), {asked.head, asked.selection});
    with_progress_line(fmt::format("working out {}", name), [&] { return run.missing(last); });
    if (!run.failures().empty()) return tell_failures(run, stages_up_to(last), asked);
    if (last == Stage::prove) {
        const int status = report(run.job(), run.proof(), run.proof(), asked);
        return run.proof().verdict == prove::Verdict::fail ? exit_stopped : status;
    }
    const plan::Plan plan = run.plan(last);
    if (last == Stage::hold) return report(run.job(), plan.notices(), plan.hold, asked);
    if (last == Stage::shape) return report(run.job(), plan.notices(), plan.shape, asked);
    if (last == Stage::cut) return report(run.job(), plan.notices(), plan.cut, asked);
    find::Find shown = plan.find;
    if (!asked.head.empty())
        erase_if(shown.heads, [&](const auto& found) { return found.head != asked.head; });
    return report(run.job(), plan.notices(), shown, asked);
}

int plan(const Asked& asked) {
    auto job = load_for(asked, stages_up_to(Stage::cut));
    if (!job) return exit_input;
    const auto given = std::make_shared<const job::Job>(std::move(*job));
    plan::Run run(given, {asked.head, asked.selection}), all_heads(given, {});
    with_progress_line("planning", [&] { return run.missing(Stage::cut); });
    if (!asked.json) with_progress_line("judging the seats", [&] { return all_heads.missing(Stage::prove); });
    if (!run.failures().empty()) return tell_failures(run, stages_up_to(Stage::cut), asked);
    const papers::BundleOptions options{asked.paper, asked.unit.value_or(given->units), table_style(),
                                        asked.out.empty() ? papers::Extent::words : papers::Extent::papers,
                                        !asked.json};
    const auto bundle = with_progress_line("drawing the papers", [&] {
        return papers::plan_bundle(*given, run.plan(), all_heads.proof_so_far(), options,
                                   all_heads.failures());
    });
    if (!bundle) {
        fmt::print(stderr, "seatwright: the papers could not be drawn: {}\n", bundle.error());
        return exit_ours;
    }
    const int status = deliver(*bundle, "plan", asked);
    return all_heads.failures().empty() ? status : say_failures(all_heads);
}

int forecast(const Asked& asked) {
    auto job = load_for(asked, stages_up_to(Stage::shape));
    if (!job) return exit_input;
    plan::Run run(std::make_shared<const job::Job>(std::move(*job)), {});
    with_progress_line("working out the plan", [&] {
        run.missing(Stage::cut);
        return run.missing(Stage::prove);
    });
    if (!run.failures().empty()) return tell_failures(run, stages_up_to(Stage::cut), asked);
    const plan::Plan plan = run.plan();
    const auto result = with_progress_line("working out the batch", [&] {
        return forecast::forecast(run.job(), plan, run.proof(), asked.batch);
    });
    if (!asked.out.empty()) {
        const auto paper =
            papers::forecast_pdf(run.job(), result, {asked.paper, asked.unit.value_or(run.job().units)});
        if (!paper) {
            fmt::print(stderr, "seatwright: the paper could not be drawn: {}\n", paper.error());
            return exit_ours;
        }
        papers::Bundle bundle;
        bundle.files = {{"forecast.pdf", *paper}};
        bundle.digest = plan.selection.digest;
        if (const auto written = write_papers(bundle, "forecast", asked.out); !written) {
            fmt::print(stderr, "--out: {}\n", written.error());
            return exit_input;
        }
    }
    const int status = report(run.job(), result, result, asked);
    if (!asked.out.empty() && !asked.json) say(fmt::format("\nPapers in {}:\n  forecast.pdf\n", asked.out));
    return status;
}

int certify(const Asked& asked) {
    auto job = load_for(asked, {Stage::prove});
    if (!job) return exit_input;
    plan::Run run(std::make_shared<const job::Job>(std::move(*job)), {asked.head, {}});
    with_progress_line("judging the seats", [&] { return run.missing(Stage::prove); });
    if (!run.failures().empty()) return tell_failures(run, {Stage::prove}, asked);
    const papers::BundleOptions options{asked.paper, asked.unit.value_or(run.job().units), table_style(),
                                        asked.out.empty() ? papers::Extent::words : papers::Extent::papers,
                                        !asked.json};
    const auto bundle = with_progress_line(
        "drawing the certificate", [&] { return papers::proof_bundle(run.job(), run.proof(), options); });
    if (!bundle) {
        fmt::print(stderr, "seatwright: the papers could not be drawn: {}\n", bundle.error());
        return exit_ours;
    }
    return deliver(*bundle, "proof", asked);
}

}  // namespace seatwright::cli
