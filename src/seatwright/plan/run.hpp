// One run of the stages over one job: each worked out when first asked for, and kept. What goes wrong inside
// one leaves the others standing.
#pragma once

#include <atomic>
#include <memory>
#include <mutex>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "seatwright/plan/failure.hpp"
#include "seatwright/plan/plan.hpp"
#include "seatwright/plan/steps.hpp"

namespace seatwright::plan {

class ResultCache;

// Thread-safe: who asks for what is being worked out waits for it. Results live as long as the run.
class Run {
  public:
    // `cache`: where results of other runs may be found, null = nowhere; it outlives the run. `steps` too.
    Run(std::shared_ptr<const job::Job> job, Asked asked, ResultCache* cache = nullptr,
        const Steps& steps = the_steps());
    // The same with what a what-if changes: all it does not touch is the base's own and worked out there.
    Run(std::shared_ptr<Run> base, Overrides overrides);

    const job::Job& job() const { return *job_; }
    const std::string& asked_head() const { return asked_.head; }
    const job::Selection& selection() const { return asked_.selection; }
    // The head whose readings shape and cut use (job::planned_head).
    const std::string& head() const { return head_; }

    // Sentences: why this stage has no result, worked out now if it was not before; empty: it has one.
    std::vector<Sentence> missing(job::Stage stage);

    // The stages; std::logic_error where missing() has something to say.
    const hold::Hold& hold() { return take<hold::Hold>(Step::hold); }
    const find::Find& find() { return take<find::Find>(Step::find); }
    const shape::Shape& shape() { return take<shape::Shape>(Step::shape); }
    const cut::Cut& cut() { return take<cut::Cut>(Step::cut); }
    const prove::Proof& proof() { return take<prove::Proof>(Step::prove); }
    // Hold to cut, as far as `last`; later stages are empty, and so are those that have no result.
    Plan plan(job::Stage last = job::Stage::cut);

    // Without working anything out: whether a stage was asked for; whether it is there, or why not (nothing
    // to say while it was not asked for); all of hold to cut, and the proof, as far as they are there (else
    // empty ones); what failed.
    bool asked_for(job::Stage stage) const;
    bool is_there(job::Stage stage) const;
    std::vector<Sentence> missing_so_far(job::Stage stage) const;
    Plan so_far() const;
    const prove::Proof& proof_so_far() const;
    std::vector<Failure> failures() const;

    // Of these parts and of what the stages named were made from: for what is made of their results. Only
    // with a cache.
    Fingerprint fingerprint(const Parts& parts, std::span<const job::Stage> stages);

  private:
    // Its members are written once, under its mutex, before `state` says so.
    struct Slot {
        enum class State { unasked, missing, there };
        std::mutex mutex;
        std::atomic<State> state{State::unasked};
        Result result;
        std::vector<Sentence> missing;
        std::optional<std::string> failure;
        Fingerprint made_from{};
    };
    Slot& slot(Step step) const { return slots_[static_cast<std::size_t>(step)]; }
    const StepRow& row(Step step) const { return steps_[static_cast<std::size_t>(step)]; }

    Slot& reach(Step step);
    void work_out(Step step, Slot& slot);
    static void take_over(const Slot& from, Slot& slot);
    std::vector<Sentence> first_missing(const StepRow& row, Given& given);
    static std::vector<Sentence> told(const StepRow& row, const Slot& slot);
    bool touched(Step step) const;
    Fingerprint made_from(const StepRow& row, const Parts& reads, const Given& given);
    const PartPrints& prints();
    Result result(Step step) const;  // null: not there so far
    Plan plan_of(const std::function<Result(Step)>& result) const;
    template <class T>
    const T& take(Step step) {
        const Slot& slot = reach(step);
        require(slot.result != nullptr, "what is asked of a run is there");
        return *static_cast<const T*>(slot.result.get());
    }

    std::shared_ptr<const job::Job> job_;
    Asked asked_;
    std::string head_;
    Overrides overrides_;
    std::shared_ptr<Run> base_;  // null = no what-if
    ResultCache* cache_ = nullptr;
    const Steps& steps_;
    mutable std::array<Slot, step_count> slots_;
    std::once_flag printed_;
    PartPrints prints_{};
};

}  // namespace seatwright::plan
