#include "computation.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include "overrides.hpp"
#include "seatwright/papers/report.hpp"
#include "source.hpp"

namespace seatwright::server {

namespace {

using job::Stage;

// What a stage builds on; hold and prove stand on the job alone.
std::optional<Stage> before(Stage stage) {
    if (stage == Stage::find) return Stage::hold;
    if (stage == Stage::shape) return Stage::find;
    if (stage == Stage::cut) return Stage::shape;
    return std::nullopt;
}

std::string dump(const Json& json) {
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

void append(Notices& all, const Notices& more) {
    all.warnings.insert(all.warnings.end(), more.warnings.begin(), more.warnings.end());
}

}  // namespace

Checked<job::Job> read_with_shop(const std::string& text, const std::string& shop_text,
                                 const std::string& name) {
    return job::read_job(text, name, [&](const std::string&) { return shop_text; });
}

Computation::Computation(Checked<job::Job> job, std::string head, Overrides overrides)
    : asked_head_(std::move(head)), overrides_(std::move(overrides)) {
    if (!job) {
        faults_ = std::move(job.error());
        return;
    }
    job_ = std::move(*job);
    head_ = plan::head_to_shape(*job_, asked_head_);
    plan_.given.assumptions = job_->assumptions;
}

void Computation::run(Stage stage) {
    switch (stage) {
        case Stage::hold:
            plan_.hold = hold::plan(*job_);
            if (overrides_.attitude) hold_at(plan_.hold, *job_, *overrides_.attitude);
            return;
        case Stage::find:
            plan_.find = find::locate(*job_, plan_.hold);
            return;
        case Stage::shape:
            plan_.shape = overrides_.depths.empty()
                              ? shape::design(*job_, plan_.hold, plan_.find, head_)
                              : shape::with_depths(*job_, plan_.hold, plan_.find, head_, overrides_.depths);
            return;
        case Stage::cut:
            plan_.cut = cut::plan(*job_, plan_.hold, plan_.find, plan_.shape);
            return;
        case Stage::prove:
            proof_ = prove::judge(*job_, asked_head_);
            return;
    }
}

bool Computation::reach(Stage stage) {
    const std::lock_guard<std::recursive_mutex> lock(mutex_);
    if (const auto known = reached_.find(stage); known != reached_.end()) return known->second;
    auto& missing = needs_[stage];
    if (!job_) missing.push_back("the job file cannot be read as it stands");
    if (job_)
        for (const auto& fault : job::needs(*job_, stage))
            missing.push_back(fmt::format("{} {}", fault.key, fault.text));
    if (const auto earlier = before(stage); missing.empty() && earlier && !reach(*earlier))
        missing.push_back(fmt::format("{} comes first", job::name_of(*earlier)));
    if (missing.empty()) try {
            run(stage);
        } catch (const std::logic_error& fault) {
            spdlog::error("{}: {}", job::name_of(stage), fault.what());
            missing.push_back(fmt::format("an error of the program itself stopped {}", job::name_of(stage)));
        }
    return reached_[stage] = missing.empty();
}

void Computation::demand(Stage stage) {
    if (reach(stage)) return;
    std::string sentence;
    for (const auto& need : needs_[stage]) sentence += (sentence.empty() ? "" : "; ") + need;
    Halt stopped = halt(422, sentence);
    if (!faults_.empty()) stopped.body["faults"] = json_of(faults_);
    throw stopped;
}

std::vector<std::string> Computation::needs(Stage stage) {
    reach(stage);
    return needs_[stage];
}

const hold::Hold& Computation::hold() {
    demand(Stage::hold);
    return plan_.hold;
}

const find::Find& Computation::find() {
    demand(Stage::find);
    return plan_.find;
}

const shape::Shape& Computation::shape() {
    demand(Stage::shape);
    return plan_.shape;
}

const cut::Cut& Computation::cut() {
    demand(Stage::cut);
    return plan_.cut;
}

const prove::Proof& Computation::proof() {
    demand(Stage::prove);
    return proof_;
}

const plan::Plan& Computation::whole() {
    demand(Stage::cut);
    return plan_;
}

// As the command line prints it: the notices of the stages run so far, then the stage's own keys.
Json Computation::stage_json(Stage stage) {
    plan::Plan upto;
    upto.given = plan_.given;
    upto.hold = plan_.hold;
    if (stage >= Stage::find) upto.find = plan_.find;
    if (stage >= Stage::shape) upto.shape = plan_.shape;
    if (stage >= Stage::cut) upto.cut = plan_.cut;
    Json json =
        papers::json_frame(*job_, stage == Stage::prove ? static_cast<Notices>(proof_) : upto.notices());
    switch (stage) {
        case Stage::hold:
            json.update(papers::json_of(*job_, plan_.hold));
            break;
        case Stage::find: {
            find::Find shown = plan_.find;
            if (!asked_head_.empty())
                std::erase_if(shown.heads, [&](const auto& found) { return found.head != asked_head_; });
            json.update(papers::json_of(*job_, shown));
            break;
        }
        case Stage::shape:
            json.update(papers::json_of(*job_, plan_.shape));
            break;
        case Stage::cut:
            json.update(papers::json_of(*job_, plan_.cut));
            break;
        case Stage::prove:
            json.update(papers::json_of(*job_, proof_));
            break;
    }
    return json;
}

const std::string& Computation::json(Stage stage) {
    demand(stage);
    return kept(fmt::format("json/{}", job::name_of(stage)), [&] { return dump(stage_json(stage)); });
}

std::vector<papers::StageLine> Computation::lines(LengthUnit unit) {
    constexpr std::array stages{Stage::hold, Stage::find, Stage::shape, Stage::cut, Stage::prove};
    for (const Stage stage : stages) reach(stage);
    std::vector<papers::StageLine> lines;
    if (job_) lines = papers::brief(*job_, plan_, proof_, unit, asked_head_);
    lines.resize(stages.size());
    for (std::size_t i = 0; i < stages.size(); ++i) {
        if (reached_[stages[i]]) continue;
        const std::string& why = needs_[stages[i]].front();
        lines[i] = {std::string(job::name_of(stages[i])), papers::StageState::open, "Not known yet.", why};
    }
    return lines;
}

Notices Computation::notices() {
    Notices all;
    if (reach(Stage::hold)) append(all, plan_.hold);
    if (reach(Stage::find)) append(all, plan_.find);
    if (reach(Stage::shape)) append(all, plan_.shape);
    if (reach(Stage::cut)) append(all, plan_.cut);
    if (reach(Stage::prove)) append(all, proof_);
    return all;
}

}  // namespace seatwright::server
