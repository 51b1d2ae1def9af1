#include "computation.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include "overrides.hpp"
#include "seatwright/plan/digest.hpp"
#include "seatwright/report/report.hpp"
#include "selection.hpp"
#include "source.hpp"

namespace seatwright::server {

namespace {

using job::Stage;
constexpr std::array all_stages{Stage::hold, Stage::find, Stage::shape, Stage::cut, Stage::prove};

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

Computation::Computation(Checked<job::Job> job, std::string head, Overrides overrides, Recall recall,
                         job::Selection selection)
    : asked_head_(std::move(head)), overrides_(std::move(overrides)), recall_(std::move(recall)) {
    if (!job) {
        faults_ = std::move(job.error());
        return;
    }
    job_ = std::move(*job);
    head_ = plan::head_to_shape(*job_, asked_head_);
    plan_.asked_head = asked_head_;
    plan_.selection = std::move(selection);
    plan_.given.assumptions = job_->assumptions;
}

Computation::Computation(std::shared_ptr<Computation> base, Overrides overrides)
    : job_(base->job_),
      faults_(base->faults_),
      asked_head_(base->asked_head_),
      head_(base->head_),
      overrides_(std::move(overrides)),
      base_(std::move(base)) {
    plan_.asked_head = asked_head_;
    plan_.selection = base_->plan_.selection;
    plan_.given = base_->plan_.given;
}

// Before any override acts a stage is as in the base.
bool Computation::as_in_base(Stage stage) const {
    if (base_ == nullptr) return false;
    if (stage == Stage::prove) return true;
    if (overrides_.attitude) return stage == Stage::hold;
    return overrides_.depths.empty() || stage < Stage::shape;
}

void Computation::take_from_base(Stage stage) {
    switch (stage) {
        case Stage::hold:
            plan_.hold = base_->hold();
            return;
        case Stage::find:
            plan_.find = base_->find();
            return;
        case Stage::shape:
            plan_.shape = base_->shape();
            return;
        case Stage::cut:
            plan_.cut = base_->cut();
            return;
        case Stage::prove:
            proof_ = base_->proof();
            return;
    }
}

void Computation::run(Stage stage) {
    if (as_in_base(stage))
        take_from_base(stage);
    else
        compute(stage);
    if (stage == Stage::find)
        plan_.selection.digest = plan::digest_of(*job_, plan_.find, head_, plan_.selection);
    if (stage == Stage::hold && overrides_.attitude) hold_at(plan_.hold, *job_, *overrides_.attitude);
}

// Kept results hold for the job as it is: what a drag changes is computed here.
find::Find Computation::found() {
    const auto make = [&] { return find::locate(*job_, plan_.hold); };
    if (recall_.memory == nullptr || overrides_.attitude) return make();
    return *recall_.memory->finds.get(recall_.keys.find,
                                      [&] { return std::make_shared<const find::Find>(make()); });
}

shape::Shape Computation::shaped() {
    const auto make = [&] {
        return overrides_.depths.empty()
                   ? shape::design(*job_, plan_.hold, plan_.find, head_)
                   : shape::with_depths(*job_, plan_.hold, plan_.find, head_, overrides_.depths);
    };
    if (recall_.memory == nullptr || !overrides_.empty()) return make();
    return *recall_.memory->shapes.get(recall_.keys.cut + head_,
                                       [&] { return std::make_shared<const shape::Shape>(make()); });
}

cut::Cut Computation::planned() {
    const auto make = [&] { return cut::plan(*job_, plan_.hold, plan_.find, plan_.shape, plan_.selection); };
    if (recall_.memory == nullptr || !overrides_.empty()) return make();
    return *recall_.memory->cuts.get(recall_.keys.cut + head_ + part_key(plan_.selection),
                                     [&] { return std::make_shared<const cut::Cut>(make()); });
}

void Computation::compute(Stage stage) {
    switch (stage) {
        case Stage::hold:
            plan_.hold = hold::plan(*job_, asked_head_);
            return;
        case Stage::find:
            plan_.find = found();
            return;
        case Stage::shape:
            plan_.shape = shaped();
            // Where a seat stops in its own program is for cut to say.
            if (job::needs(*job_, Stage::cut).empty()) {
                plan_.cut = planned();
                plan::show_programs(plan_);
            }
            return;
        case Stage::cut:
            plan_.cut = planned();
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
    if (missing.empty() && as_in_base(stage)) missing = base_->needs(stage);
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
        report::json_frame(*job_, stage == Stage::prove ? static_cast<Notices>(proof_) : upto.notices());
    switch (stage) {
        case Stage::hold:
            report::join(json, report::json_of(*job_, plan_.hold));
            break;
        case Stage::find: {
            find::Find shown = plan_.find;
            if (!asked_head_.empty())
                std::erase_if(shown.heads, [&](const auto& found) { return found.head != asked_head_; });
            report::join(json, report::json_of(*job_, shown));
            break;
        }
        case Stage::shape:
            report::join(json, report::json_of(*job_, plan_.shape));
            break;
        case Stage::cut:
            report::join(json, report::json_of(*job_, plan_.cut));
            break;
        case Stage::prove:
            report::join(json, report::json_of(*job_, proof_));
            break;
    }
    return json;
}

const std::string& Computation::json(Stage stage) {
    demand(stage);
    const std::string name = fmt::format("json/{}", job::name_of(stage));
    const auto make = [&] { return dump(stage_json(stage)); };
    if (recall_.memory == nullptr || !overrides_.empty() || stage == Stage::prove) return kept(name, make);
    const std::string& key = stage <= Stage::find ? recall_.keys.find : recall_.keys.cut;
    return kept(name, [&] {
        return *recall_.memory->texts.get(
            fmt::format("{}/{}/{}/{}{}", name, asked_head_, head_, key, part_key(plan_.selection)),
            [&] { return std::make_shared<const std::string>(make()); });
    });
}

std::vector<report::StageLine> Computation::lines(LengthUnit unit) {
    for (const Stage stage : all_stages) reach(stage);
    return lines_so_far(unit);
}

std::vector<report::StageLine> Computation::lines_so_far(LengthUnit unit) {
    const std::lock_guard<std::recursive_mutex> lock(mutex_);
    std::vector<report::StageLine> lines;
    if (job_) lines = report::brief(*job_, plan_, proof_, unit, asked_head_);
    lines.resize(all_stages.size());
    for (std::size_t i = 0; i < all_stages.size(); ++i) {
        if (computed(all_stages[i])) continue;
        const auto missing = needs_.find(all_stages[i]);
        const std::string why = missing == needs_.end() ? "" : missing->second.front();
        lines[i] = {std::string(job::name_of(all_stages[i])), report::StageState::open, "Not known yet.",
                    why};
    }
    return lines;
}

bool Computation::asked(Stage stage) const {
    const std::lock_guard<std::recursive_mutex> lock(mutex_);
    return reached_.contains(stage);
}

bool Computation::computed(Stage stage) const {
    const std::lock_guard<std::recursive_mutex> lock(mutex_);
    const auto known = reached_.find(stage);
    return known != reached_.end() && known->second;
}

Notices Computation::notices_so_far() const {
    Notices all;
    if (computed(Stage::hold)) append(all, plan_.hold);
    if (computed(Stage::find)) append(all, plan_.find);
    if (computed(Stage::shape)) append(all, plan_.shape);
    if (computed(Stage::cut)) append(all, plan_.cut);
    if (computed(Stage::prove)) append(all, proof_);
    return all;
}

Notices Computation::notices() {
    for (const Stage stage : all_stages) reach(stage);
    return notices_so_far();
}

}  // namespace seatwright::server
