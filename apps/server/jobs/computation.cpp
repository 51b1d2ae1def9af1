#include "server/jobs/computation.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <algorithm>

#include "seatwright/report/report.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/report/so_far.hpp"

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

Computation::Computation(ReadJob job, const std::string& head, StageCache* cache,
                         const job::Selection& selection, const plan::Steps& steps)
    : faults_(std::move(job.faults)), cache_(cache) {
    if (job.job == nullptr) return;
    run_ = std::make_shared<plan::Run>(std::move(job.job), plan::Asked{head, selection},
                                       cache == nullptr ? nullptr : &cache->results, steps);
}

Computation::Computation(Checked<job::Job> job, const std::string& head, StageCache* cache,
                         const job::Selection& selection, const plan::Steps& steps)
    : Computation(job ? ReadJob{std::make_shared<const job::Job>(std::move(*job)), {}}
                      : ReadJob{nullptr, std::move(job.error())},
                  head, cache, selection, steps) {}

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
Json Computation::stage_json(Stage stage, report::Points points, const Speech& speech) {
    if (stage == Stage::prove) {
        Json json = report::json_frame(job().title, run_->proof(), speech);
        report::join(json, report::json_of(job(), run_->proof(), speech, points));
        return json;
    }
    const plan::Plan upto = run_->plan(stage);
    Json json = report::json_frame(job().title, upto.notices(), speech);
    if (stage == Stage::hold) report::join(json, report::json_of(job(), upto.hold, speech));
    if (stage == Stage::find) {
        find::Find shown = upto.find;
        if (!asked_head().empty())
            erase_if(shown.heads, [&](const auto& found) { return found.head != asked_head(); });
        report::join(json, report::json_of(job(), shown, speech));
    }
    if (stage == Stage::shape) report::join(json, report::json_of(job(), upto.shape, speech));
    if (stage == Stage::cut) report::join(json, report::json_of(job(), upto.cut, speech));
    return json;
}

std::shared_ptr<const StageText> Computation::keys(Stage stage, report::Points points, LengthUnit unit) {
    asked(stage);
    const auto make = [&] {
        auto text = std::make_shared<StageText>();
        const Json json = stage_json(stage, points, Speech{unit});
        for (const auto& [key, value] : json.items()) text->emplace_back(key, dump(value));
        return text;
    };
    if (cache_ == nullptr) return make();
    std::vector<Stage> shown{stage};
    if (stage != Stage::prove) shown.assign(all_stages.begin(), all_stages.begin() + 1 + int(stage));
    plan::Parts reads = json_reads;
    if (stage != Stage::find) reads = reads.without({Part::touches});
    if (stage != Stage::cut) reads = reads.without({Part::heads, Part::first_head});
    FingerprintOf given = FingerprintOf().add(run_->fingerprint(reads, shown)).add(unit);
    if (points == report::Points::left_out) given.add(points);
    return cache_->texts.get(given.end(), make);
}

const std::string& Computation::json(Stage stage, std::optional<LengthUnit> unit) {
    asked(stage);
    const LengthUnit said = unit.value_or(job().units);
    return kept(fmt::format("json/{}/{}", job::name_of(stage), report::unit_name(said)), [&] {
        const auto text = keys(stage, report::Points::shown, said);
        std::string out;
        for (const auto& [key, value] : *text)
            ((((out += out.empty() ? '{' : ',') += '"') += key) += "\":") += value;
        return out += '}';
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
