#include "seatwright/report/so_far.hpp"

#include <nlohmann/json.hpp>

#include "seatwright/report/report.hpp"
#include "seatwright/words/english_report.hpp"

namespace seatwright::report {

using job::Stage;

Notices notices_so_far(const plan::Run& run) {
    Notices all = run.so_far().notices();
    const auto& proof = run.proof_so_far().warnings;
    all.warnings.insert(all.warnings.end(), proof.begin(), proof.end());
    return plan::with(std::move(all), run.failures());
}

std::vector<StageLine> brief_so_far(const plan::Run& run, const Speech& speech, const std::string& head) {
    auto lines = brief(run.job(), run.so_far(), run.proof_so_far(), speech, head);
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const auto stage = static_cast<Stage>(i);
        if (run.is_there(stage)) continue;
        const auto missing = run.missing_so_far(stage);
        lines[i] = {lines[i].stage, StageState::open, in_words(sentence<"not-known-yet">(), speech),
                    missing.empty() ? "" : in_words(missing.front(), speech), ""};
    }
    say_stopped(lines, run.failures(), speech);
    return lines;
}

nlohmann::ordered_json json_so_far(const plan::Run& run) {
    auto json = json_frame(run.job(), notices_so_far(run));
    const auto add = [&](Stage stage, const auto& result) {
        if (run.is_there(stage)) json[std::string(job::name_of(stage))] = json_of(run.job(), result);
    };
    const plan::Plan plan = run.so_far();
    add(Stage::hold, plan.hold);
    add(Stage::find, plan.find);
    add(Stage::shape, plan.shape);
    add(Stage::cut, plan.cut);
    add(Stage::prove, run.proof_so_far());
    return json;
}

}  // namespace seatwright::report
