// The stages for one job text, each computed once when first asked for, in order, and kept. Thread-safe: who
// asks for what is being computed waits for it.
#pragma once

#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "halt.hpp"
#include "seatwright/job/needs.hpp"
#include "seatwright/plan/plan.hpp"
#include "seatwright/report/brief.hpp"
#include "stage_memory.hpp"

namespace seatwright::server {

// What a drag changes in a result rather than in the text.
struct Overrides {
    struct Attitude {
        std::string setup;                  // id; empty = every setup
        std::optional<double> tilt, swing;  // rad
    };
    std::optional<Attitude> attitude;
    std::map<std::string, double> depths;  // valve id → depth, mm
    bool empty() const { return !attitude && depths.empty(); }
};

class Computation {
  public:
    // `job` as read; `head` whose readings hold, shape and cut use, empty = the stages' own choice;
    // `selection`: which of its seats programs are for.
    Computation(Checked<job::Job> job, std::string head, Overrides overrides = {}, Recall recall = {},
                job::Selection selection = {});
    // The same job and head as `base`, with what a drag changes: what was computed there is not computed
    // again.
    Computation(std::shared_ptr<Computation> base, Overrides overrides);

    const Faults& faults() const { return faults_; }
    bool readable() const { return job_.has_value(); }
    const job::Job& job() const { return *job_; }
    const std::string& head() const { return head_; }              // as chosen by plan::head_to_shape
    const std::string& asked_head() const { return asked_head_; }  // empty = none in particular

    // Sentences: what is missing before this stage can be computed; empty when it can (and has been).
    std::vector<std::string> needs(job::Stage stage);

    // The stages; throw Halt 422 with what is missing.
    const hold::Hold& hold();
    const find::Find& find();
    const shape::Shape& shape();
    const cut::Cut& cut();
    const prove::Proof& proof();
    // All up to cut.
    const plan::Plan& whole();

    // The command line's JSON of a stage, as text; computed once.
    const std::string& json(job::Stage stage);
    // One line a stage in these units, with stages that cannot be computed open.
    std::vector<report::StageLine> lines(LengthUnit unit);
    // The same without computing more: a stage nobody asked for yet stands open, without a next step.
    std::vector<report::StageLine> lines_so_far(LengthUnit unit);
    // Whether a stage was asked for so far, computed or not.
    bool asked(job::Stage stage) const;
    bool computed(job::Stage stage) const;  // asked for so far, and could be
    // Warnings of every stage; computes them.
    Notices notices();
    // Warnings of the stages computed so far.
    Notices notices_so_far() const;

    // Kept beside the results, under a name: texts made of them (drawings, the page's state).
    template <class Make>
    const std::string& kept(const std::string& name, Make&& make) {
        const std::lock_guard<std::recursive_mutex> lock(mutex_);
        const auto found = texts_.find(name);
        if (found != texts_.end()) return found->second;
        return texts_.emplace(name, make()).first->second;
    }

  private:
    bool reach(job::Stage stage);  // computes up to and with that stage; false if it cannot be
    void run(job::Stage stage);
    void compute(job::Stage stage);
    find::Find found();
    shape::Shape shaped();
    cut::Cut planned();
    bool as_in_base(job::Stage stage) const;
    void take_from_base(job::Stage stage);
    void demand(job::Stage stage);
    Json stage_json(job::Stage stage);

    std::optional<job::Job> job_;
    Faults faults_;
    std::string asked_head_, head_;
    Overrides overrides_;
    Recall recall_;
    std::shared_ptr<Computation> base_;  // null = everything is computed here
    mutable std::recursive_mutex mutex_;
    plan::Plan plan_;
    prove::Proof proof_;
    std::map<job::Stage, bool> reached_;
    std::map<job::Stage, std::vector<std::string>> needs_;
    std::map<std::string, std::string> texts_;
};

}  // namespace seatwright::server
