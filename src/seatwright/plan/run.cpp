#include "seatwright/plan/run.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <new>

#include "seatwright/job/doubts.hpp"
#include "seatwright/plan/result_cache.hpp"
#include "seatwright/words/english_plan.hpp"

namespace seatwright::plan {

namespace {

using job::Stage;

constexpr Step step_of(Stage stage) {
    switch (stage) {
        case Stage::hold:
            return Step::hold;
        case Stage::find:
            return Step::find;
        case Stage::shape:
            return Step::shape;
        case Stage::cut:
            return Step::cut;
        case Stage::prove:
            return Step::prove;
    }
    return Step::prove;
}

template <class T>
std::shared_ptr<const T> as(const Result& result) {
    return std::static_pointer_cast<const T>(result);
}

}  // namespace

Run::Run(std::shared_ptr<const job::Job> job, Asked asked, ResultCache* cache, const Steps& steps)
    : job_(std::move(job)),
      asked_(std::move(asked)),
      head_(job::planned_head(*job_, asked_.head)),
      cache_(cache),
      steps_(steps) {}

Run::Run(std::shared_ptr<Run> base, Overrides overrides)
    : job_(base->job_),
      asked_(base->asked_),
      head_(base->head_),
      overrides_(std::move(overrides)),
      base_(std::move(base)),
      steps_(base_->steps_) {}

// A what-if acts on this step or on one it needs.
bool Run::touched(Step step) const {
    const StepRow& of = row(step);
    if (of.acts != nullptr && of.acts(overrides_)) return true;
    return std::any_of(of.needs.begin(), of.needs.end(),
                       [&](const Need& need) { return touched(need.step); });
}

const PartPrints& Run::prints() {
    std::call_once(printed_, [&] { prints_ = prints_of(*job_, asked_); });
    return prints_;
}

Fingerprint Run::made_from(const StepRow& row, const Parts& reads, const Given& given) {
    FingerprintOf print;
    print.add(row.step);
    for (std::size_t i = 0; i < part_count; ++i)
        if (reads.has(static_cast<Part>(i))) print.add(prints()[i]);
    for (const Need& need : row.needs) {
        const Result& result = given.result(need.step);
        print.add(result != nullptr);
        if (result && need.taken != nullptr)
            need.taken(print, result.get());
        else if (result)
            print.add(slot(need.step).made_from);
    }
    return print.end();
}

// Works out what the row needs; says what stands against it, and fills in the results if nothing does.
std::vector<Sentence> Run::first_missing(const StepRow& row, Given& given) {
    std::vector<Sentence> missing = job::needs_said(*job_, row.stage);
    for (auto need = row.needs.rbegin(); missing.empty() && need != row.needs.rend(); ++need) {
        const Slot& earlier = reach(need->step);
        given.results[static_cast<std::size_t>(need->step)] = earlier.result;
        if (earlier.result || !need->must) continue;
        const Stage stage = this->row(need->step).stage;
        if (stage == row.stage)
            missing = told(this->row(need->step), earlier);
        else
            missing.push_back(sentence<"comes-first">("stage"_is = job::name_of(stage)));
    }
    return missing;
}

std::vector<Sentence> Run::told(const StepRow& row, const Slot& slot) {
    if (slot.failure) return {Failure{row.stage, *slot.failure}.words()};
    return slot.missing;
}

void Run::take_over(const Slot& from, Slot& slot) {
    slot.result = from.result;
    slot.missing = from.missing;
    slot.failure = from.failure;
}

void Run::work_out(Step step, Slot& slot) {
    const StepRow& of = row(step);
    Given given{*job_, asked_, head_, overrides_};
    try {
        if (base_ != nullptr && !touched(step)) return take_over(base_->reach(step), slot);
        slot.missing = first_missing(of, given);
        if (!slot.missing.empty()) return;
        const auto work = [&] { return of.work(given); };
        if (cache_ == nullptr) {
            slot.result = work();
        } else {
            slot.made_from = made_from(of, of.reads, given);
            given.cache = cache_;
            given.beside = made_from(of, of.reads.without(of.by_head), given);
            slot.result = cache_->get(step, slot.made_from, work);
        }
    } catch (const std::bad_alloc&) {
        slot.failure = "out of memory";  // short enough to need none
    } catch (const std::exception& fault) {
        slot.failure.emplace();
        try {
            slot.failure = fault.what();
        } catch (...) {
            // No memory for the words: that it failed stands.
        }
    } catch (...) {
        slot.failure = "not said";
    }
}

Run::Slot& Run::reach(Step step) {
    Slot& of = slot(step);
    const std::lock_guard<std::mutex> lock(of.mutex);
    if (of.state == Slot::State::unasked) {
        work_out(step, of);
        of.state = of.result ? Slot::State::there : Slot::State::missing;
    }
    return of;
}

Result Run::result(Step step) const {
    const Slot& of = slot(step);
    return of.state == Slot::State::there ? of.result : nullptr;
}

std::vector<Sentence> Run::missing(Stage stage) {
    const Step step = step_of(stage);
    return told(row(step), reach(step));
}

bool Run::asked_for(Stage stage) const {
    return slot(step_of(stage)).state != Slot::State::unasked;
}

bool Run::is_there(Stage stage) const {
    return slot(step_of(stage)).state == Slot::State::there;
}

std::vector<Sentence> Run::missing_so_far(Stage stage) const {
    const Slot& of = slot(step_of(stage));
    if (of.state != Slot::State::missing) return {};
    return told(row(step_of(stage)), of);
}

Plan Run::plan_of(const std::function<Result(Step)>& result) const {
    job::Selection selection = asked_.selection;
    if (const auto mark = as<std::string>(result(Step::mark))) selection.digest = *mark;
    Results results{as<hold::Hold>(result(Step::hold)), as<find::Find>(result(Step::find)),
                    as<shape::Shape>(result(Step::shape)), as<cut::Cut>(result(Step::cut))};
    results = kept_to(selection.only, std::move(results), *job_);
    return {asked_.head, std::move(selection), job_->assumptions, std::move(results)};
}

Plan Run::plan(Stage last) {
    return plan_of([&](Step step) { return row(step).stage <= last ? reach(step).result : nullptr; });
}

Plan Run::so_far() const {
    return plan_of([&](Step step) { return result(step); });
}

const prove::Proof& Run::proof_so_far() const {
    static const prove::Proof nothing;
    const Result proof = result(Step::prove);
    return proof ? *static_cast<const prove::Proof*>(proof.get()) : nothing;
}

std::vector<Failure> Run::failures() const {
    std::vector<Failure> out;
    for (const StepRow& row : steps_) {
        const Slot& of = slot(row.step);
        if (of.state == Slot::State::missing && of.failure) out.push_back({row.stage, *of.failure});
    }
    return out;
}

Fingerprint Run::fingerprint(const Parts& parts, std::span<const Stage> stages) {
    require(cache_ != nullptr, "a fingerprint is asked of a run with a cache");
    FingerprintOf print;
    for (std::size_t i = 0; i < part_count; ++i)
        if (parts.has(static_cast<Part>(i))) print.add(prints()[i]);
    for (const Stage stage : stages) {
        const Slot& of = reach(step_of(stage));
        print.add(of.result != nullptr).add(of.made_from);
    }
    return print.end();
}

}  // namespace seatwright::plan
