// The command `forecast`: the batch simulated beforehand.
#include "seatwright/forecast/forecast.hpp"

#include <fmt/format.h>

#include <cstdio>
#include <nlohmann/json.hpp>

#include "cli/deliver.hpp"
#include "cli/load.hpp"
#include "cli/say.hpp"
#include "seatwright/base/progress_line.hpp"
#include "seatwright/batch/batch.hpp"
#include "seatwright/batch/forecast_paper.hpp"

namespace seatwright::cli {

int forecast(const Asked& asked) {
    auto job = load_for(asked, stages_up_to(job::Stage::shape));
    if (!job) return exit_input;
    plan::Run run(std::make_shared<const job::Job>(std::move(*job)), {});
    with_progress_line("working out the plan", [&] {
        run.missing(job::Stage::cut);
        return run.missing(job::Stage::prove);
    });
    if (!run.failures().empty()) return tell_failures(run, stages_up_to(job::Stage::cut), asked);
    const plan::Plan plan = run.plan();
    const auto result = with_progress_line("working out the batch", [&] {
        return forecast::forecast(run.job(), plan, run.proof(), asked.batch);
    });
    if (!asked.out.empty()) {
        const auto paper =
            batch::forecast_pdf(run.job(), result, {asked.paper, asked.unit.value_or(run.job().units)});
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
    const int status =
        tell(run.job(), result,
             {[&] { return batch::json_of(run.job(), result); },
              [&](const report::TextStyle& style) { return batch::text_of(run.job(), result, style); }},
             asked);
    if (!asked.out.empty() && !asked.json) say(fmt::format("\nPapers in {}:\n  forecast.pdf\n", asked.out));
    return status;
}

}  // namespace seatwright::cli
