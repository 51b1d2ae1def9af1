
#include <algorithm>
#include <map>

#include "seatwright/find/blind_run.hpp"
#include "seatwright/find/find.hpp"
#include "seatwright/find/head_cache.hpp"
#include "seatwright/find/held.hpp"
#include "seatwright/find/label.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/find/record.hpp"
#include "seatwright/find/walk.hpp"
#include "seatwright/find/way_round.hpp"
#include "seatwright/job/allowance.hpp"
#include "seatwright/job/fields.hpp"
#include "seatwright/words/english_find.hpp"

namespace seatwright::find {
namespace {

std::vector<PilotChoice> choices_of(const job::Job& job, const GuidesRead& reads) {
    std::vector<PilotChoice> choices;
    choices.reserve(job.head.valves.size());
    for (std::size_t v = 0; v < job.head.valves.size(); ++v)
        choices.push_back(choose_pilot(
            job, v, reads.empty() || reads[v] == unread ? nullptr : &job.readings.guides[reads[v]]));
    return choices;
}

// A guide beyond its limits, or one no pilot fits, stops the seats of its head.
void say_guide(std::vector<Warning>& warnings, const job::Job& job, const job::GuideBore& read) {
    const auto valve = job.head.index_of(read.valve);
    if (!valve) return;
    const PilotChoice choice = choose_pilot(job, *valve, &read);
    if (choice.repair)
        warnings.push_back(
            {"find", "guide-repair", read.valve,
             sentence<"guide-repair">("head"_is = read.head, "reason"_is = choice.reason),
             job::allowance_of(job, "guide " + read.valve) != nullptr ? Severity::note : Severity::blocking});
    else if (!choice.pilot && !job.pilots.empty())
        warnings.push_back(
            {"find", "no-pilot", read.valve,
             sentence<"no-pilot">("head"_is = read.head, "reason"_is = choice.reason,
                                  "top"_is = as_length(read.top), "middle"_is = as_length(read.middle),
                                  "bottom"_is = as_length(read.bottom)),
             Severity::blocking});
}

// An assumption is said once, however many heads it holds for.
void take_notices(Find& result, Notices from) {
    std::move(from.warnings.begin(), from.warnings.end(), std::back_inserter(result.warnings));
    std::move(from.held_back.begin(), from.held_back.end(), std::back_inserter(result.held_back));
    for (Sentence& line : from.assumptions)
        if (std::find(result.assumptions.begin(), result.assumptions.end(), line) == result.assumptions.end())
            result.assumptions.push_back(std::move(line));
}

std::shared_ptr<const Located> locate_head(const Learner& learner, const job::Job& job,
                                           const hold::Hold& hold, const Record& record,
                                           const HeadRecord& own) {
    auto out = std::make_shared<Located>();
    out->head.head = own.head;
    out->head.pilots = choices_of(job, own.last_guide);
    Labelled labelled = label_touches(job, inputs_of(job, hold, record, own, out->head.pilots),
                                      unlabelled_of(job, record, own));
    for (std::size_t s = 0; s < labelled.inputs.size(); ++s) {
        const Learner::Prepared prepared = learner.prepare(s, std::move(labelled.inputs[s]));
        SetupOutcome outcome = locate_setup(job, hold, prepared.input);
        Located::Setup& setup = out->setups.emplace_back();
        setup.held = held_back_of(job, prepared.input, outcome);
        setup.doubt = way_round_doubt(job, *prepared.input.setup, prepared.input.guides, job.find.touch_sd);
        setup.contribution = learner.contribution_of(s, prepared, outcome);
        out->head.setups.push_back(std::move(outcome.found));
        setup.notices = std::move(outcome);
    }
    out->of_labels = std::move(labelled);
    return out;
}

}  // namespace

// How far the heads have been gone through.
struct Walk::Marks {
    std::size_t warnings = 0, assumptions = 0, held_back = 0, doubts = 0;
};
struct Walk::Step {
    Marks before;
    std::vector<PatternRecord::Undo> undo;  // by setup
    std::vector<std::size_t> alike;         // ways that have one more id
};

Walk::Walk() = default;
Walk::~Walk() = default;

void Walk::take_back() {
    Step& last = steps_.back();
    for (std::size_t s = last.undo.size(); s-- > 0;) learner_->take_back(s, std::move(last.undo[s]));
    said_.warnings.resize(last.before.warnings);
    said_.assumptions.resize(last.before.assumptions);
    said_.held_back.resize(last.before.held_back);
    doubts_.resize(last.before.doubts);
    for (std::size_t i = last.alike.size(); i-- > 0;) {
        auto& ids = alike_[last.alike[i]].second;
        ids.pop_back();
        if (ids.empty()) alike_.pop_back();  // the last that came
    }
    said_.heads.pop_back();
    steps_.pop_back();
}

// Which ways have one more id by it.
std::vector<std::size_t> Walk::note_alike(const FoundHead& head) {
    std::vector<std::size_t> added;
    for (const FoundSetup& setup : head.setups) {
        if (!setup.pattern_undecidable) continue;
        auto at = std::find_if(alike_.begin(), alike_.end(),
                               [&](const auto& known) { return known.first == setup.alike; });
        if (at == alike_.end()) at = alike_.insert(at, {setup.alike, {}});
        auto& ids = at->second;
        if (std::find(ids.begin(), ids.end(), setup.id) != ids.end()) continue;
        ids.push_back(setup.id);
        added.push_back(static_cast<std::size_t>(at - alike_.begin()));
    }
    return added;
}

// The next head learns of it.
void Walk::take_in(const std::shared_ptr<const Located>& located) {
    Step step{
        {said_.warnings.size(), said_.assumptions.size(), said_.held_back.size(), doubts_.size()}, {}, {}};
    step.undo.resize(located->setups.size());
    for (std::size_t s = 0; s < located->setups.size(); ++s) {
        const Located::Setup& setup = located->setups[s];
        said_.held_back.insert(said_.held_back.end(), setup.held.begin(), setup.held.end());
        if (setup.doubt) doubts_.push_back(*setup.doubt);
        take_notices(said_, learner_->take(s, setup.contribution, step.undo[s]));
        take_notices(said_, setup.notices);
    }
    take_notices(said_, located->of_labels);
    said_.heads.push_box({located, &located->head});
    step.alike = note_alike(located->head);
    steps_.push_back(std::move(step));
}

void Walk::say_guides(const job::Job& job) {
    const auto& guides = job.readings.guides;
    if (!guides.grown_from(guides_)) {
        guide_warnings_.clear();
        guides_.clear();
    }
    for (std::size_t g = guides_.size(); g < guides.size(); ++g) say_guide(guide_warnings_, job, guides[g]);
    guides_ = guides;
}

Find Walk::go(const job::Job& job, const hold::Hold& hold, const Before* before) {
    const std::lock_guard<std::mutex> lock(mutex_);
    try {
        return gone(job, hold, before);
    } catch (...) {
        forget();  // half a step says nothing
        throw;
    }
}

void Walk::forget() {
    record_ = {};
    learner_.reset();
    steps_.clear();
    said_ = {};
    doubts_.clear();
    alike_.clear();
    guides_.clear();
    guide_warnings_.clear();
    blind_.reset();
}

// The next head without any touch: the same as long as the last head lay there, the same pilots are taken and
// the same was learned.
std::optional<BlindRun> Walk::blind_run_after(const job::Job& job, const hold::Hold& hold,
                                              const Find& found) {
    FingerprintOf print;
    if (!found.heads.empty())
        for (const FoundSetup& setup : found.heads.back().setups)
            print.add(setup.yaw).add(setup.offset).add(setup.yaw_known).add(setup.pattern);
    for (const PilotChoice& choice : found.pilots) print.add(choice.pilot);
    learner_->add_learned(print);
    const Fingerprint given = print.end();
    if (!blind_ || blind_->first != given)
        blind_.emplace(given, blind_run(job, hold, found.heads, found.pilots, learner_->next_patterns()));
    return blind_->second;
}

Find Walk::gone(const job::Job& job, const hold::Hold& hold, const Before* before) {
    if (learner_ && known_from_here(job) != known_from_here_) forget();
    if (!learner_) learner_.emplace(job, hold);
    known_from_here_ = known_from_here(job);
    const std::size_t first = record_.take(job);
    while (steps_.size() > first) take_back();
    while (steps_.size() < record_.heads.size()) {
        const HeadRecord& head = record_.heads[steps_.size()];
        const auto work = [&] { return locate_head(*learner_, job, hold, record_, head); };
        if (before == nullptr) {
            take_in(work());
            continue;
        }
        FingerprintOf given;
        given.add(before->beside).add(head.print);
        learner_->add_learned(given);
        take_in(before->heads.get(given.end(), work));
    }
    say_guides(job);
    Find result = said_;
    result.pilots = choices_of(job, record_.last_guide);
    result.warnings.insert(result.warnings.begin(), guide_warnings_.begin(), guide_warnings_.end());
    // Said once for all setups that look the same in the same ways.
    for (const auto& [alike, ids] : alike_)
        result.assumptions.push_back(
            sentence<"lies-as-declared">("setups"_is = list_of(ids, Join::commas), "ways"_is = alike));
    if (!job::asks_of_whole_file(job))
        job::ask_about(result, job::dearest_first(doubts_), job::asked_in(hold));
    result.learned = learner_->learned();
    result.repeatability = learner_->repeatability();
    result.blind_run = blind_run_after(job, hold, result);
    if (result.blind_run && !job.find.carry) result.assumptions.emplace_back(sentence<"blind-run-next">());
    return result;
}

std::vector<job::PastHead> Walk::heads_that_taught(const job::Job& job, const hold::Hold& hold) {
    go(job, hold, nullptr);
    return learner_->record(job, hold);
}

std::vector<job::PastHead> heads_that_taught(const job::Job& job, const hold::Hold& hold) {
    auto out = Walk().heads_that_taught(job, hold);
    for (job::PastHead& past : out)
        if (past.from.empty()) past.from = job.title;
    return out;
}

Find locate(const job::Job& job, const hold::Hold& hold, const Before* before) {
    if (before == nullptr) return Walk().go(job, hold, nullptr);
    return before->heads.walk(before->beside)->go(job, hold, before);
}

}  // namespace seatwright::find
