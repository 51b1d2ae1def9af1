#include "commands.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <nlohmann/json.hpp>

#include "load.hpp"
#include "paper_set.hpp"
#include "seatwright/job/keys.hpp"
#include "seatwright/papers/bundle.hpp"
#include "seatwright/report/keys_json.hpp"
#include "seatwright/report/report.hpp"
#include "waiting.hpp"

namespace seatwright::cli {

namespace {

using job::Stage;
using server::waited_for;

report::TableStyle table_style() {
    report::TableStyle style;
    style.colour = ::isatty(STDOUT_FILENO) == 1 && std::getenv("NO_COLOR") == nullptr;
    return style;
}

report::TextStyle text_style(const job::Job& job) {
    return {table_style(), job.units};
}

// A stream that takes nothing is main's matter: it asks once at the end.
void say(const std::string& text) {
    std::fwrite(text.data(), 1, text.size(), stdout);
}

void say_json(const nlohmann::ordered_json& json) {
    // Bytes that are not UTF-8 can come in by a file name: they are replaced, never thrown over.
    say(json.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + "\n");
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
        const auto style = text_style(job);
        say(report::warnings_text(notices, style.table));
        if (!notices.warnings.empty()) say("\n");
        say(report::text_of(job, result, style));
        if (!notices.assumptions.empty()) {
            say("\n" + report::heading_text("Assumptions", style.table));
            say(report::assumptions_text(notices, style.table));
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
    // Sentences are made by the stages, so a table in another unit is that of the job told in it.
    if (!asked.json) *job = job->told_in(asked.unit.value_or(job->units));
    if (last == Stage::prove) {
        const auto proof = waited_for("judging the seats", [&] { return prove::judge(*job, asked.head); });
        const int status = report(*job, proof, proof, asked);
        return proof.verdict == prove::Verdict::fail ? exit_stopped : status;
    }
    plan::Plan plan;
    plan.given.assumptions = job->assumptions;
    plan.hold = hold::plan(*job, asked.head);
    if (last == Stage::hold) return report(*job, plan.notices(), plan.hold, asked);
    plan.find = waited_for("finding the guides", [&] { return find::locate(*job, plan.hold); });
    if (last == Stage::find) {
        if (!asked.head.empty())
            std::erase_if(plan.find.heads, [&](const auto& found) { return found.head != asked.head; });
        return report(*job, plan.notices(), plan.find, asked);
    }
    plan.shape = shape::design(*job, plan.hold, plan.find, plan::head_to_shape(*job, asked.head));
    if (last == Stage::shape) {
        const Notices so_far = plan.notices();
        // Where a seat stops in its own program is for cut to say.
        if (job::needs(*job, Stage::cut).empty()) {
            plan.cut = cut::plan(*job, plan.hold, plan.find, plan.shape);
            plan::show_programs(plan);
        }
        return report(*job, so_far, plan.shape, asked);
    }
    plan.cut = cut::plan(*job, plan.hold, plan.find, plan.shape, asked.selection);
    plan::show_programs(plan);
    return report(*job, plan.notices(), plan.cut, asked);
}

int plan(const Asked& asked) {
    const auto job = load_for(asked, stages_up_to(Stage::cut));
    if (!job) return exit_input;
    const auto plan =
        waited_for("planning", [&] { return plan::make_plan(*job, asked.head, asked.selection); });
    const papers::BundleOptions options{asked.paper, asked.unit.value_or(job->units), table_style(),
                                        asked.out.empty() ? papers::Extent::words : papers::Extent::papers,
                                        !asked.json};
    const auto bundle =
        waited_for("drawing the papers", [&] { return papers::plan_bundle(*job, plan, options); });
    if (!bundle) {
        fmt::print(stderr, "seatwright: the papers could not be drawn: {}\n", bundle.error());
        return exit_ours;
    }
    return deliver(*bundle, "plan", asked);
}

int certify(const Asked& asked) {
    const auto job = load_for(asked, {Stage::prove});
    if (!job) return exit_input;
    const auto proof = waited_for("judging the seats", [&] { return prove::judge(*job, asked.head); });
    const papers::BundleOptions options{asked.paper, asked.unit.value_or(job->units), table_style(),
                                        asked.out.empty() ? papers::Extent::words : papers::Extent::papers,
                                        !asked.json};
    const auto bundle =
        waited_for("drawing the certificate", [&] { return papers::proof_bundle(*job, proof, options); });
    if (!bundle) {
        fmt::print(stderr, "seatwright: the papers could not be drawn: {}\n", bundle.error());
        return exit_ours;
    }
    return deliver(*bundle, "proof", asked);
}

}  // namespace seatwright::cli
