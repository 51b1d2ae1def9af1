#include "cli/commands.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "cli/deliver.hpp"
#include "cli/first_seats.hpp"
#include "cli/load.hpp"
#include "cli/say.hpp"
#include "seatwright/base/progress_line.hpp"
#include "seatwright/job/keys.hpp"
#include "seatwright/papers/bundle.hpp"
#include "seatwright/report/keys_json.hpp"
#include "seatwright/report/report.hpp"

namespace seatwright::cli {

namespace {

using job::Stage;

template <class Result>
int report(const job::Job& job, const Notices& notices, const Result& result, const Asked& asked) {
    return tell(job, notices,
                {[&] { return report::json_of(job, result); },
                 [&](const report::TextStyle& style) { return report::text_of(job, result, style); }},
                asked);
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
    const FirstSeats kept = asked.out.empty() ? FirstSeats{} : first_seats_in(asked.out, job->title);
    tell_earlier(*job, kept);
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
    const int status = deliver(*bundle, "plan", asked, kept_after(kept, *given, run.plan()));
    return all_heads.failures().empty() ? status : say_failures(all_heads);
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
