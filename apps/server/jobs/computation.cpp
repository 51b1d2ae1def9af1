#include "server/jobs/computation.hpp"

#include <fmt/format.h>
#include <spdlog/spdlog.h>

#include <algorithm>

#include "seatwright/find/pilots.hpp"
#include "seatwright/job/key_names.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/report/so_far.hpp"
#include "seatwright/words/english_server.hpp"

namespace seatwright::server {

namespace {

using job::Stage;
using plan::Part;
constexpr std::array all_stages{Stage::hold, Stage::find, Stage::shape, Stage::cut, Stage::prove};

// What the JSON of a stage says beside its result: names and figures of the job, never what was only read.
constexpr plan::Parts json_reads =
    plan::Parts::all_but({Part::sure, Part::allow, Part::figures, Part::given, Part::levels, Part::guides,
                          Part::seats, Part::proofs, Part::own_proofs, Part::firsts});

// Names it where texts are kept; only English is there.
std::string name_of(const Speech& speech) {
    return fmt::format("{}/{}", report::unit_name(speech.unit), speech.on_page() ? "page" : "file");
}

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

std::vector<Sentence> Computation::needs(Stage stage) {
    if (!readable()) return {sentence<"cannot-be-read">()};
    if (before_) before_();
    const bool told = run_->asked_for(stage);
    auto missing = run_->missing(stage);
    if (!missing.empty() && !told)
        for (const auto& failure : run_->failures())
            if (failure.stage == stage)
                spdlog::error(fmt::format("{}: {}", in_words(failure.words(), {}), failure.what));
    return missing;
}

plan::Run& Computation::asked(Stage stage) {
    const auto missing = needs(stage);
    if (missing.empty()) return *run_;
    const Speech speech{readable() ? job().units : LengthUnit::mm};
    throw http_error(422, fmt::format("{}", fmt::join(in_words(missing, speech), "; ")), faults_);
}

std::string Computation::own_warnings(Stage stage, const Notices& own, const Speech& speech) {
    const auto make = [&] {
        std::string text;
        for (const Warning& warning : own.warnings)
            (text += text.empty() ? "" : ",") += report::text_of(warning, speech).text();
        return text;
    };
    if (own.warnings.empty()) return {};
    // What a stage says is its own whatever is asked of it, but that a part of the seats hears its own alone.
    if (cache_ == nullptr || !run_->selection().only.empty())
        return kept(fmt::format("warnings/{}/{}", job::name_of(stage), name_of(speech)), make);
    const std::array of{stage};
    return *cache_->warnings.get(FingerprintOf().add(run_->fingerprint({}, of)).add(name_of(speech)).end(),
                                 [&] { return std::make_shared<std::string>(make()); });
}

std::string Computation::warnings_upto(Stage stage, const plan::Plan& plan, const Speech& speech) {
    std::string list;
    const auto add = [&](Stage of, const Notices& own) {
        if (of > stage) return;
        const std::string text = own_warnings(of, own, speech);
        if (!text.empty()) (list += list.empty() ? "" : ",") += text;
    };
    add(Stage::hold, plan.hold);
    add(Stage::find, plan.find);
    add(Stage::shape, plan.shape);
    add(Stage::cut, plan.cut);
    return list;
}

std::string Computation::warnings_text(LengthUnit unit) {
    for (const Stage stage : all_stages) needs(stage);
    return warnings_so_far_text(unit);
}

std::string Computation::warnings_so_far_text(LengthUnit unit) {
    if (!readable() || !run_->failures().empty()) {
        Json list = Json::array();
        for (const Warning& warning : notices_so_far().warnings)
            list.push_back(report::json_of(warning, job::on_page(unit)));
        return dump(list);
    }
    std::string list = warnings_upto(Stage::cut, run_->so_far(), job::on_page(unit));
    const std::string proof = own_warnings(Stage::prove, run_->proof_so_far(), job::on_page(unit));
    if (!proof.empty()) (list += list.empty() ? "" : ",") += proof;
    return '[' + list + ']';
}

report::JsonMembers Computation::own_keys(Stage stage, const plan::Plan& plan, report::Extent extent,
                                          const Speech& speech) {
    switch (stage) {
        case Stage::hold:
            return report::members_of(job(), plan.hold, speech);
        case Stage::find: {
            if (asked_head().empty()) return report::members_of(job(), plan.find, speech, extent);
            find::Find shown;
            shown.blind_run = plan.find.blind_run;
            shown.pilots = find::pilots_of(job(), plan.find, asked_head());
            shown.learned = plan.find.learned;
            shown.repeatability = plan.find.repeatability;
            // The head on the machine is among the last, and no head is there twice.
            for (std::size_t h = plan.find.heads.size(); shown.heads.empty() && h-- > 0;)
                if (plan.find.heads[h].head == asked_head()) shown.heads.push_box(plan.find.heads.box(h));
            return report::members_of(job(), shown, speech, extent);
        }
        case Stage::shape:
            return report::members_of(job(), plan.shape, speech);
        case Stage::cut:
            return report::members_of(job(), plan.cut, speech, extent);
        case Stage::prove:
            break;
    }
    return report::members_of(job(), run_->proof(), speech, extent);
}

// As the command line prints it: the notices of the stages run so far, then the stage's own keys.
StageText Computation::stage_text(Stage stage, report::Extent extent, const Speech& speech) {
    const bool proof = stage == Stage::prove;
    const plan::Plan upto = proof ? run_->so_far() : run_->plan(stage);
    const std::string warnings =
        proof ? own_warnings(stage, run_->proof(), speech) : warnings_upto(stage, upto, speech);
    report::JsonMembers keys =
        report::frame_members(job().title, report::JsonText::of('[' + warnings + ']'),
                              proof ? run_->proof().assumptions : upto.all_assumptions(), speech);
    keys.join(own_keys(stage, upto, extent, speech));
    return std::move(keys).texts();
}

std::shared_ptr<const StageText> Computation::keys(Stage stage, report::Extent extent, const Speech& speech) {
    asked(stage);
    const auto make = [&] { return std::make_shared<const StageText>(stage_text(stage, extent, speech)); };
    if (cache_ == nullptr) return make();
    std::vector<Stage> shown{stage};
    if (stage != Stage::prove) shown.assign(all_stages.begin(), all_stages.begin() + 1 + int(stage));
    plan::Parts reads = json_reads;
    if (stage != Stage::find) reads = reads.without({Part::touches});
    if (stage != Stage::cut) reads = reads.without({Part::heads, Part::first_head});
    FingerprintOf given = FingerprintOf().add(run_->fingerprint(reads, shown)).add(name_of(speech));
    if (extent == report::Extent::page) given.add(extent);
    return cache_->texts.get(given.end(), make);
}

const std::string& Computation::json(Stage stage) {
    asked(stage);
    return json_said(stage, {job().units});
}

const std::string& Computation::page_json(Stage stage, LengthUnit unit) {
    asked(stage);
    return json_said(stage, job::on_page(unit));
}

const std::string& Computation::json_said(Stage stage, const Speech& speech) {
    return kept(fmt::format("json/{}/{}", job::name_of(stage), name_of(speech)), [&] {
        const auto text = keys(stage, report::Extent::whole, speech);
        std::string out;
        for (const auto& [key, value] : *text)
            ((((out += out.empty() ? '{' : ',') += '"') += key) += "\":") += value;
        return out += '}';
    });
}

const std::vector<report::StageLine>& Computation::lines(LengthUnit unit) {
    for (const Stage stage : all_stages) needs(stage);
    const std::lock_guard<std::recursive_mutex> lock(texts_mutex_);
    const auto found = lines_.find(unit);
    if (found != lines_.end()) return found->second;
    return lines_.emplace(unit, lines_so_far(unit)).first->second;
}

std::vector<report::StageLine> Computation::lines_so_far(LengthUnit unit) {
    if (readable()) return report::brief_so_far(*run_, job::on_page(unit), asked_head());
    std::vector<report::StageLine> lines;
    lines.reserve(all_stages.size());
    for (const Stage stage : all_stages)
        lines.push_back({std::string(job::name_of(stage)), report::StageState::open,
                         in_words(sentence<"not-known-yet">(), job::on_page(unit)),
                         in_words(sentence<"cannot-be-read">(), job::on_page(unit)), ""});
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
