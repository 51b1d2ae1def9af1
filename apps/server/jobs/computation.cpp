#include "server/jobs/computation.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <algorithm>

#include "seatwright/report/report.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/report/so_far.hpp"
#include "server/jobs/stored_job.hpp"

namespace seatwright::server {

namespace {

using job::Stage;
using plan::Part;
constexpr std::array all_stages{Stage::hold, Stage::find, Stage::shape, Stage::cut, Stage::prove};

constexpr const char* unreadable = "the job file cannot be read as it stands";

// What the JSON of a stage says beside its result: names and figures of the job, never what was only read.
constexpr plan::Parts json_reads =
    plan::Parts::all_but({Part::sure, Part::allow, Part::figures, Part::given, Part::levels, Part::guides,
                          Part::seats, Part::proofs, Part::own_proofs, Part::firsts});

std::string dump(const Json& json) {
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace

Computation::Computation(Checked<job::Job> job, const std::string& head, StageCache* cache,
                         const job::Selection& selection, const plan::Steps& steps)
    : cache_(cache) {
    if (!job) {
        faults_ = std::move(job.error());
        return;
    }
    run_ = std::make_shared<plan::Run>(std::make_shared<const job::Job>(std::move(*job)),
                                       plan::Asked{head, selection},
                                       cache == nullptr ? nullptr : &cache->results, steps);
}

Computation::Computation(const Computation& base, plan::Overrides overrides) : faults_(base.faults_) {
    if (base.readable()) run_ = std::make_shared<plan::Run>(base.run_, std::move(overrides));
}

const std::string& Computation::head() const {
    static const std::string none;
    return readable() ? run_->head() : none;
}

const std::string& Computation::asked_head() const {
    static const std::string none;
    return readable() ? run_->asked_head() : none;
}

std::vector<std::string> Computation::needs(Stage stage) {
    if (!readable()) return {unreadable};
    if (before_) before_();
    const bool told = run_->asked_for(stage);
    auto missing = run_->missing(stage);
    if (!missing.empty() && !told)
        for (const auto& failure : run_->failures())
            if (failure.stage == stage) spdlog::error("{}: {}", failure.words(), failure.what);
    return missing;
}

plan::Run& Computation::asked(Stage stage) {
    const auto missing = needs(stage);
    if (missing.empty()) return *run_;
    HttpError stopped = http_error(422, fmt::format("{}", fmt::join(missing, "; ")));
    if (!faults_.empty()) stopped.body["faults"] = json_of(faults_);
    throw stopped;
}

// As the command line prints it: the notices of the stages run so far, then the stage's own keys.
Json Computation::stage_json(Stage stage, const Speech& speech) {
    if (stage == Stage::prove) {
        Json json = report::json_frame(job().title, run_->proof(), speech);
        report::join(json, report::json_of(job(), run_->proof(), speech));
        return json;
    }
    const plan::Plan upto = run_->plan(stage);
    Json json = report::json_frame(job().title, upto.notices(), speech);
    if (stage == Stage::hold) report::join(json, report::json_of(job(), upto.hold, speech));
    if (stage == Stage::find) {
        find::Find shown = upto.find;
        if (!asked_head().empty())
            std::erase_if(shown.heads, [&](const auto& found) { return found.head != asked_head(); });
        report::join(json, report::json_of(job(), shown, speech));
    }
    if (stage == Stage::shape) report::join(json, report::json_of(job(), upto.shape, speech));
    if (stage == Stage::cut) report::join(json, report::json_of(job(), upto.cut, speech));
    return json;
}

const std::string& Computation::json(Stage stage, std::optional<LengthUnit> unit) {
    asked(stage);
    const Speech speech{unit.value_or(job().units)};
    const auto make = [&] { return dump(stage_json(stage, speech)); };
    const std::string name = fmt::format("json/{}/{}", job::name_of(stage), report::unit_name(speech.unit));
    if (cache_ == nullptr) return kept(name, make);
    return kept(name, [&] {
        std::vector<Stage> shown{stage};
        if (stage != Stage::prove) shown.assign(all_stages.begin(), all_stages.begin() + 1 + int(stage));
        return *cache_->texts.get(
            FingerprintOf().add(run_->fingerprint(json_reads, shown)).add(speech.unit).end(),
            [&] { return std::make_shared<const std::string>(make()); });
    });
}

std::vector<report::StageLine> Computation::lines(LengthUnit unit) {
    for (const Stage stage : all_stages) needs(stage);
    return lines_so_far(unit);
}

std::vector<report::StageLine> Computation::lines_so_far(LengthUnit unit) {
    if (readable()) return report::brief_so_far(*run_, unit, asked_head());
    std::vector<report::StageLine> lines;
    lines.reserve(all_stages.size());
    for (const Stage stage : all_stages)
        lines.push_back(
            {std::string(job::name_of(stage)), report::StageState::open, "Not known yet.", unreadable});
    return lines;
}

Notices Computation::notices_so_far() const {
    return readable() ? report::notices_so_far(*run_) : Notices{};
}

Notices Computation::notices() {
    for (const Stage stage : all_stages) needs(stage);
    return notices_so_far();
}

}  // namespace seatwright::server
