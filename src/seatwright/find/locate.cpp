
#include <algorithm>
#include <map>

#include "seatwright/find/blind_run.hpp"
#include "seatwright/find/find.hpp"
#include "seatwright/find/head_cache.hpp"
#include "seatwright/find/held.hpp"
#include "seatwright/find/label.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/find/record.hpp"
#include "seatwright/find/way_round.hpp"
#include "seatwright/job/allowance.hpp"
#include "seatwright/job/fields.hpp"
#include "seatwright/words/english_find.hpp"

namespace seatwright::find {
namespace {

std::vector<PilotChoice> choices_of(const job::Job& job, const std::vector<const job::GuideBore*>& reads) {
    std::vector<PilotChoice> choices;
    choices.reserve(job.head.valves.size());
    for (std::size_t v = 0; v < job.head.valves.size(); ++v)
        choices.push_back(choose_pilot(job, v, reads.empty() ? nullptr : reads[v]));
    return choices;
}

// A guide beyond its limits, or one no pilot fits, stops the seats of its head.
void say_guides(Find& result, const job::Job& job) {
    for (const job::GuideBore& read : job.readings.guides) {
        const auto valve = job.head.index_of(read.valve);
        if (!valve) continue;
        const PilotChoice choice = choose_pilot(job, *valve, &read);
        if (choice.repair)
            result.warnings.push_back(
                {"find", "guide-repair", read.valve,
                 sentence<"guide-repair">("head"_is = read.head, "reason"_is = choice.reason),
                 job::allowance_of(job, "guide " + read.valve) != nullptr ? Severity::note
                                                                          : Severity::blocking});
        else if (!choice.pilot && !job.pilots.empty())
            result.warnings.push_back(
                {"find", "no-pilot", read.valve,
                 sentence<"no-pilot">("head"_is = read.head, "reason"_is = choice.reason,
                                      "top"_is = as_length(read.top), "middle"_is = as_length(read.middle),
                                      "bottom"_is = as_length(read.bottom)),
                 Severity::blocking});
    }
}

// An assumption is said once, however many heads it holds for.
void take_notices(Find& result, Notices from) {
    std::move(from.warnings.begin(), from.warnings.end(), std::back_inserter(result.warnings));
    for (Sentence& line : from.assumptions)
        if (std::find(result.assumptions.begin(), result.assumptions.end(), line) == result.assumptions.end())
            result.assumptions.push_back(std::move(line));
}

// Said once for all setups that look the same in the same ways.
void say_look_alikes(Find& result) {
    std::vector<std::pair<Sentence, std::vector<std::string>>> setups;
    for (const FoundHead& head : result.heads)
        for (const FoundSetup& setup : head.setups) {
            if (!setup.pattern_undecidable) continue;
            auto at = std::find_if(setups.begin(), setups.end(),
                                   [&](const auto& known) { return known.first == setup.alike; });
            if (at == setups.end()) at = setups.insert(at, {setup.alike, {}});
            if (std::find(at->second.begin(), at->second.end(), setup.id) == at->second.end())
                at->second.push_back(setup.id);
        }
    for (const auto& [alike, ids] : setups)
        if (!ids.empty())
            result.assumptions.push_back(
                sentence<"lies-as-declared">("setups"_is = list_of(ids, Join::commas), "ways"_is = alike));
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

// Of a head's own readings, each with its place among all: the results name it.
Fingerprint given_of(const Fingerprint& beside, const Learner& learner, const job::Job& job,
                     const HeadRecord& own) {
    FingerprintOf print;
    print.add(beside).add(own.head).add(own.touches);
    for (const std::size_t t : own.touches) print.add(job.readings.touches[t]);
    for (const job::GuideBore* guide : own.last_guide) {
        print.add(guide != nullptr);
        if (guide != nullptr) print.add(*guide);
    }
    learner.add_learned(print);
    return print.end();
}

// The next head learns of it.
void take_in(Find& result, Learner& learner, const Located& located, std::vector<job::Doubt>& doubts) {
    for (std::size_t s = 0; s < located.setups.size(); ++s) {
        const Located::Setup& setup = located.setups[s];
        result.held_back.insert(result.held_back.end(), setup.held.begin(), setup.held.end());
        if (setup.doubt) doubts.push_back(*setup.doubt);
        take_notices(result, learner.take(s, setup.contribution));
        take_notices(result, setup.notices);
    }
    take_notices(result, located.of_labels);
    result.heads.push_back(located.head);
}

}  // namespace

std::vector<job::PastHead> heads_that_taught(const job::Job& job, const hold::Hold& hold) {
    const Record record = record_of(job);
    Learner learner(job, hold);
    Find result;
    std::vector<job::Doubt> doubts;
    for (const HeadRecord& head : record.heads)
        take_in(result, learner, *locate_head(learner, job, hold, record, head), doubts);
    auto out = learner.record(job);
    const auto own = job.heads();
    for (job::PastHead& past : out) {
        const auto before = std::find_if(job.find.past.begin(), job.find.past.end(),
                                         [&](const job::PastHead& p) { return p.head == past.head; });
        const bool mine = std::find(own.begin(), own.end(), past.head) != own.end();
        past.from = !mine && before != job.find.past.end() ? before->from : job.title;
    }
    return out;
}

Find locate(const job::Job& job, const hold::Hold& hold, const Before* before) {
    Find result;
    const Record record = record_of(job);
    result.pilots = choices_of(job, record.last_guide);
    say_guides(result, job);
    Learner learner(job, hold);
    std::vector<job::Doubt> doubts;
    result.heads.reserve(record.heads.size());
    for (const HeadRecord& head : record.heads) {
        const auto work = [&] { return locate_head(learner, job, hold, record, head); };
        take_in(result, learner,
                before == nullptr ? *work()
                                  : *before->heads.get(given_of(before->beside, learner, job, head), work),
                doubts);
    }
    say_look_alikes(result);
    if (!job::asks_of_whole_file(job))
        job::ask_about(result, job::dearest_first(std::move(doubts)), job::asked_in(hold));
    result.learned = learner.learned();
    result.repeatability = learner.repeatability();
    result.blind_run = blind_run(job, hold, result.heads, result.pilots, learner.next_patterns());
    if (result.blind_run && !job.find.carry) result.assumptions.emplace_back(sentence<"blind-run-next">());
    return result;
}

}  // namespace seatwright::find
