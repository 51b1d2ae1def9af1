// A run of the stages over one job as the server answers with it: as JSON, as lines, with texts made of it.
// Thread-safe.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <mutex>
#include <string>
#include <vector>

#include "seatwright/plan/result_cache.hpp"
#include "seatwright/plan/run.hpp"
#include "seatwright/report/brief.hpp"
#include "seatwright/report/members.hpp"
#include "seatwright/report/report.hpp"
#include "server/http/http_error.hpp"
#include "server/jobs/stored_job.hpp"

namespace seatwright::server {

// A stage's JSON by its keys, each as text.
using StageText = std::vector<std::pair<std::string, std::string>>;

// What stages gave to other computations, and what they gave as JSON: an entry of another kind, or a facet
// being dragged, does not make the shop wait again for what it cannot change.
struct StageCache {
    plan::ResultCache results;
    Cache<Fingerprint, const StageText> texts{256};
    Cache<Fingerprint, const std::string> warnings{256};  // of one stage, as texts with commas between
};

class Computation {
  public:
    // `job` as read; `head` whose readings hold, shape and cut use, empty = the stages' own choice;
    // `selection`: which of its seats programs are for. `cache`, if any, outlives this.
    Computation(ReadJob job, const std::string& head, StageCache* cache = nullptr,
                const job::Selection& selection = {}, const plan::Steps& steps = plan::the_steps());
    Computation(Checked<job::Job> job, const std::string& head, StageCache* cache = nullptr,
                const job::Selection& selection = {}, const plan::Steps& steps = plan::the_steps());
    // The same job and head as `base`, with what a drag changes: what was computed there is not computed
    // again.
    Computation(const Computation& base, plan::Overrides overrides);

    const Faults& faults() const { return faults_; }
    bool readable() const { return run_ != nullptr; }
    const job::Job& job() const { return run_->job(); }
    const std::string& head() const;        // job::planned_head
    const std::string& asked_head() const;  // empty = none in particular

    // Called before each stage that is asked for; what it throws ends the question.
    void before_each_stage(std::function<void()> check) { before_ = std::move(check); }

    // What is missing before this stage can be computed; empty when it can (and has been).
    std::vector<Sentence> needs(job::Stage stage);

    // The stages; throw HttpError 422 with what is missing.
    const hold::Hold& hold() { return asked(job::Stage::hold).hold(); }
    const find::Find& find() { return asked(job::Stage::find).find(); }
    const shape::Shape& shape() { return asked(job::Stage::shape).shape(); }
    const cut::Cut& cut() { return asked(job::Stage::cut).cut(); }
    const prove::Proof& proof() { return asked(job::Stage::prove).proof(); }
    // All up to cut.
    plan::Plan whole() { return asked(job::Stage::cut).plan(); }
    // The same as far as it can be worked out; the job is readable.
    plan::Plan plan() { return run_->plan(); }

    // The command line's JSON of a stage, as text; made once.
    const std::string& json(job::Stage stage);
    // The same as a page says it.
    const std::string& page_json(job::Stage stage, LengthUnit unit);
    // By its keys.
    std::shared_ptr<const StageText> keys(job::Stage stage, report::Extent extent, const Speech& speech);
    // A list of notices().warnings as JSON, for a page.
    std::string warnings_text(LengthUnit unit);
    // Of notices_so_far().warnings.
    std::string warnings_so_far_text(LengthUnit unit);
    // One line a stage in these units, for a page, with stages that cannot be computed open.
    const std::vector<report::StageLine>& lines(LengthUnit unit);
    // The same without computing more: a stage nobody asked for yet stands open, without a next step.
    std::vector<report::StageLine> lines_so_far(LengthUnit unit);
    // Whether a stage was asked for so far, computed or not.
    bool asked_for(job::Stage stage) const { return !readable() || run_->asked_for(stage); }
    // Warnings of every stage; computes them.
    Notices notices();
    // Warnings of the stages computed so far, and of those that failed.
    Notices notices_so_far() const;
    // An error of the program itself stopped a stage: another computation may fare better.
    bool failed() const { return readable() && !run_->failures().empty(); }

    // Kept beside the results, under a name: texts made of them (drawings, the page's state).
    template <class Make>
    const std::string& kept(const std::string& name, Make&& make) {
        const std::lock_guard<std::recursive_mutex> lock(texts_mutex_);
        const auto found = texts_.find(name);
        if (found != texts_.end()) return found->second;
        return texts_.emplace(name, make()).first->second;
    }

  private:
    plan::Run& asked(job::Stage stage);
    std::string own_warnings(job::Stage stage, const Notices& own, const Speech& speech);
    std::string warnings_upto(job::Stage stage, const plan::Plan& plan, const Speech& speech);
    report::JsonMembers own_keys(job::Stage stage, const plan::Plan& plan, report::Extent extent,
                                 const Speech& speech);
    StageText stage_text(job::Stage stage, report::Extent extent, const Speech& speech);
    const std::string& json_said(job::Stage stage, const Speech& speech);

    Faults faults_;
    std::shared_ptr<plan::Run> run_;  // null: the job cannot be read
    StageCache* cache_ = nullptr;     // null: results are found nowhere else
    std::function<void()> before_;
    std::recursive_mutex texts_mutex_;
    std::map<std::string, std::string> texts_;
    std::map<LengthUnit, std::vector<report::StageLine>> lines_;  // with all stages worked out
};

}  // namespace seatwright::server
