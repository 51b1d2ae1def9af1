#include "cli/deliver.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdio>
#include <nlohmann/json.hpp>

#include "cli/say.hpp"
#include "seatwright/report/so_far.hpp"

namespace seatwright::cli {

namespace {

using job::Stage;

report::TextStyle text_style(const job::Job& job, const Asked& asked) {
    return {table_style(), asked.unit.value_or(job.units)};
}

}  // namespace

std::vector<Stage> stages_up_to(Stage last) {
    if (last == Stage::prove) return {Stage::prove};
    std::vector<Stage> out;
    for (const auto s : {Stage::hold, Stage::find, Stage::shape, Stage::cut}) {
        out.push_back(s);
        if (s == last) break;
    }
    return out;
}

int tell(const job::Job& job, const Notices& notices, const Told& told, const Asked& asked) {
    if (asked.json) {
        auto json = report::json_frame(job, notices);
        report::join(json, told.json());
        say_json(json);
    } else {
        const auto style = text_style(job, asked);
        say(report::warnings_text(notices, style.speech(), style.table));
        if (!notices.warnings.empty()) say("\n");
        say(told.text(style));
        if (!notices.assumptions.empty()) {
            say("\n" + report::heading_text("Assumptions", style.table));
            say(report::assumptions_text(notices, style.speech(), style.table));
        }
    }
    return plan::blocked(notices) ? exit_stopped : exit_done;
}

int say_failures(const plan::Run& run) {
    for (const auto& failure : run.failures())
        fmt::print(stderr, "seatwright: {}: {}\n", in_words(failure.words(), {}), failure.what);
    return exit_ours;
}

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
                                                 const std::string& folder,
                                                 std::optional<FirstSeats> firsts) {
    PaperSet set{what, bundle.digest, {}, std::move(firsts)};
    for (const auto& paper : bundle.files)
        set.files.push_back(
            {paper.name, paper.bytes,
             paper.role == papers::Paper::Role::program ? PaperRole::program : PaperRole::paper});
    return replace_set(folder, set);
}

int deliver(const papers::Bundle& bundle, const char* what, const Asked& asked,
            std::optional<FirstSeats> firsts) {
    if (!asked.out.empty()) {
        const auto written = write_papers(bundle, what, asked.out, std::move(firsts));
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

}  // namespace seatwright::cli
