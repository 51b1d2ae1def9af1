#include "seatwright/plan/plan.hpp"

#include <algorithm>

#include "seatwright/job/doubts.hpp"
#include "seatwright/plan/digest.hpp"

namespace seatwright::plan {

namespace {

void append(Notices& all, const Notices& more) {
    all.warnings.insert(all.warnings.end(), more.warnings.begin(), more.warnings.end());
    for (const auto& assumption : more.assumptions)
        if (std::find(all.assumptions.begin(), all.assumptions.end(), assumption) == all.assumptions.end())
            all.assumptions.push_back(assumption);
}

}  // namespace

std::string head_to_shape(const job::Job& job, const std::string& asked) {
    return job::planned_head(job, asked);
}

Notices Plan::notices() const {
    Notices all;
    append(all, given);
    append(all, hold);
    append(all, find);
    append(all, shape);
    append(all, cut);
    all.held_back = cut.held_back;  // those of the stages before are among them
    return all;
}

Plan make_plan(const job::Job& job, const std::string& head, const job::Selection& selection) {
    Plan plan;
    plan.asked_head = head;
    plan.given.assumptions = job.assumptions;
    plan.hold = hold::plan(job, head);
    plan.find = find::locate(job, plan.hold);
    plan.selection = selection;
    plan.selection.digest = digest_of(job, plan.find, head_to_shape(job, head), selection);
    plan.shape = shape::design(job, plan.hold, plan.find, head_to_shape(job, head));
    plan.cut = cut::plan(job, plan.hold, plan.find, plan.shape, plan.selection);
    show_programs(plan);
    return plan;
}

void show_programs(Plan& plan) {
    for (shape::Seat& seat : plan.shape.seats) {
        const auto cut = std::find_if(plan.cut.seats.begin(), plan.cut.seats.end(),
                                      [&](const cut::SeatCut& of) { return of.valve == seat.valve; });
        seat.program_z = cut == plan.cut.seats.end() ? std::nullopt : cut->program_z;
    }
}

bool blocked(const Notices& notices) {
    return !notices.held_back.empty() ||
           std::any_of(notices.warnings.begin(), notices.warnings.end(),
                       [](const Warning& w) { return w.weight == Weight::blocking; });
}

}  // namespace seatwright::plan
