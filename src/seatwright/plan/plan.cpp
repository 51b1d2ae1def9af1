#include "seatwright/plan/plan.hpp"

#include <algorithm>

#include "seatwright/plan/run.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::plan {

namespace {

void append(std::vector<Sentence>& all, const std::vector<Sentence>& more) {
    for (const auto& assumption : more)
        if (std::find(all.begin(), all.end(), assumption) == all.end()) all.push_back(assumption);
}

template <class T>
const T& or_empty(const std::shared_ptr<const T>& result) {
    static const T empty;
    return result ? *result : empty;
}

}  // namespace

Plan::Plan(std::string of_head, job::Selection selected, std::vector<Sentence> assumed, Results results)
    : results_(std::move(results)),
      asked_head(std::move(of_head)),
      selection(std::move(selected)),
      given{{}, std::move(assumed), {}},
      hold(or_empty(results_.hold)),
      find(or_empty(results_.find)),
      shape(or_empty(results_.shape)),
      cut(or_empty(results_.cut)) {}

std::vector<Sentence> Plan::all_assumptions() const {
    std::vector<Sentence> all;
    append(all, given.assumptions);
    for (const Notices* stage : std::initializer_list<const Notices*>{&hold, &find, &shape, &cut})
        append(all, stage->assumptions);
    return all;
}

Notices Plan::notices() const {
    Notices all = given;
    for (const Notices* stage : std::initializer_list<const Notices*>{&hold, &find, &shape, &cut})
        all.warnings.insert(all.warnings.end(), stage->warnings.begin(), stage->warnings.end());
    all.assumptions = all_assumptions();
    all.held_back = cut.held_back;  // those of the stages before are among them
    return all;
}

Notices Plan::notices_of_head() const {
    Notices all = notices();
    for (Warning& warning : all.warnings)
        if (of_another_head(warning, shape.head)) warning.severity = Severity::note;
    return all;
}

Plan make_plan(const job::Job& job, const std::string& head, const job::Selection& selection) {
    // The run is over before the job can be.
    Run run(std::shared_ptr<const job::Job>(std::shared_ptr<const job::Job>(), &job), {head, selection});
    for (const auto stage : {job::Stage::hold, job::Stage::find, job::Stage::shape, job::Stage::cut})
        for (const Sentence& lacking : run.missing(stage)) require(false, in_words(lacking, {job.units}));
    return run.plan();
}

Results kept_to(const std::vector<std::string>& only, Results results, const job::Job& job) {
    if (only.empty() || !results.cut) return results;
    const auto asked = [&](const std::string& id) {
        return std::find(only.begin(), only.end(), id) != only.end();
    };
    const shape::Shape& shape = or_empty(results.shape);
    const bool cutters = std::all_of(shape.seats.begin(), shape.seats.end(), [&](const auto& seat) {
        return seat.cutter || !asked(job.head.valves.at(seat.valve).id);
    });
    const auto keep = [&]<class T>(std::shared_ptr<const T>& result) {
        if (!result) return;
        T kept = *result;
        std::erase_if(kept.warnings, [&](const Warning& warning) {
            if (warning.severity != Severity::blocking) return false;
            return warning.valve ? !asked(*warning.valve) : warning.code == "no-cutter" && cutters;
        });
        std::erase_if(kept.held_back,
                      [&](const HeldBack& held) { return held.valve && !asked(*held.valve); });
        result = std::make_shared<const T>(std::move(kept));
    };
    keep(results.hold);
    keep(results.find);
    keep(results.shape);
    keep(results.cut);
    return results;
}

bool of_another_head(const Warning& warning, const std::string& head) {
    const seatwright::Part* of = value_of(warning.text, "head");
    return of != nullptr && *of != seatwright::Part(head);
}

bool blocked(const Notices& notices) {
    return !notices.held_back.empty() ||
           std::any_of(notices.warnings.begin(), notices.warnings.end(),
                       [](const Warning& w) { return w.severity == Severity::blocking; });
}

}  // namespace seatwright::plan
