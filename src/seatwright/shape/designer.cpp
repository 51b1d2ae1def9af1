#include "seatwright/shape/designer.hpp"

#include <algorithm>

#include "seatwright/find/pilots.hpp"
#include "seatwright/job/allowance.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/shape/asked.hpp"
#include "seatwright/shape/clash.hpp"
#include "seatwright/shape/consequences.hpp"
#include "seatwright/shape/deep_seat.hpp"
#include "seatwright/shape/depth_doubts.hpp"
#include "seatwright/shape/fit.hpp"
#include "seatwright/shape/flow.hpp"
#include "seatwright/shape/section.hpp"
#include "seatwright/shape/settle.hpp"
#include "seatwright/shape/window.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {

namespace {

// A face wider than asked by less than this is rounding of the shelf's figures, mm.
constexpr double width_noise = 1e-6;

}  // namespace

Designer::Designer(const job::Job& job, const hold::Hold& hold, const find::Find& find,
                   const std::string& head)
    : job_(job), hold_(hold), find_(find), before_(before_cutting(job, hold, head)) {
    out_.head = head;
    since_first_.resize(job.head.valves.size(), 0.0);
}

Shape Designer::run(const std::map<std::string, double>& asked) {
    append(before_.notices);
    for (const auto kind : job::both_kinds) start_kind(kind);
    for (std::size_t v = 0; v < job_.head.valves.size(); ++v) start_seat(v);
    plan();
    if (!asked.empty()) cut_to(asked);
    for (auto& seat : out_.seats) finish_seat(seat);
    sum_up(job_, before_, out_.seats, out_.depth);
    append({{}, {}, held_without_cutter(job_, out_)});
    append(judge_clashes(job_, choice_, out_.seats));
    out_.chambers = chambers_of(job_, before_, out_.seats);
    Fits fits = fits_of(job_);
    out_.inserts = std::move(fits.inserts);
    out_.guides = std::move(fits.guides);
    append(fits.notices);
    order_of_work();
    assume();
    return std::move(out_);
}

void Designer::append(const Notices& more) {
    out_.warnings.insert(out_.warnings.end(), more.warnings.begin(), more.warnings.end());
    out_.assumptions.insert(out_.assumptions.end(), more.assumptions.begin(), more.assumptions.end());
    out_.held_back.insert(out_.held_back.end(), more.held_back.begin(), more.held_back.end());
}

void Designer::warn(const char* code, std::optional<std::string> valve, Sentence text, Severity severity) {
    out_.warnings.push_back({"shape", code, std::move(valve), std::move(text), severity});
}

bool Designer::used(job::Kind kind) const {
    return std::any_of(job_.head.valves.begin(), job_.head.valves.end(),
                       [&](const job::Valve& v) { return v.kind == kind; });
}

void Designer::start_kind(job::Kind kind) {
    if (!used(kind) || !job_.seat[kind] || !job_.valve[kind]) return;
    const job::SeatForm& form = *job_.seat[kind];
    const auto slopes = sensitivities(kind, form);
    out_.sensitivity.insert(out_.sensitivity.end(), slopes.begin(), slopes.end());
    if (auto flow = flow_of(job_, kind)) out_.flow.push_back(std::move(*flow));
    if (section_of(*job_.valve[kind], form).points.front().x() <= 0)
        warn("form-too-deep", std::nullopt, sentence<"throat-past-axis">("kind"_is = job::kind_said(kind)),
             Severity::blocking);
    if (form.cut_allowed) start_cutter(kind);
}

void Designer::start_cutter(job::Kind kind) {
    choice_[kind] = choose_cutter(job_, kind);
    const auto misses = near_misses(job_, kind);
    out_.near_misses.insert(out_.near_misses.end(), misses.begin(), misses.end());
    append(cutter_notices(job_, kind, choice_[kind], misses));
}

void Designer::start_seat(std::size_t v) {
    const job::Valve& valve = job_.head.valves[v];
    Seat seat;
    seat.valve = v;
    if (!job_.seat[valve.kind] || !job_.valve[valve.kind]) {
        warn("no-form", valve.id,
             sentence<"no-form">("valve"_is = valve.id, "kind"_is = job::kind_said(valve.kind)),
             Severity::blocking);
        seat.decision = Decision::not_allowed;
        out_.seats.push_back(std::move(seat));
        return;
    }
    const job::SeatForm& form = *job_.seat[valve.kind];
    const Before& before = before_.valves[v];
    seat.section = section_of(*job_.valve[valve.kind], form);
    seat.worn = before.worn;
    seat.cleanup = before_.cleanup[v];
    seat.rest = before_.rest[v];
    seat.height = before_.height[v];
    const Window window = depth_window(job_, valve, seat.section, before, seat.height);
    if (seat.cleanup || window.least > 0)
        seat.depth_low = std::max({0.0, seat.cleanup.value_or(0), window.least});
    if (window.most < no_limit) seat.depth_high = window.most;
    seat.limited_by = window.most_by;
    if (form.insert) wall(*form.insert, valve, seat);
    if (!form.cut_allowed) {
        seat.decision = Decision::not_allowed;
        not_allowed(valve, before);
    } else if (const auto& choice = choice_[valve.kind]; choice.cutter) {
        seat.cutter = choice.cutter;
        seat.blade_setting = choice.blade_setting;
        seat.cut_width = choice.cut_width;
        seat.cut_contact_od = choice.cut_contact_od;
    }
    out_.seats.push_back(std::move(seat));
}

void Designer::wall(const job::Insert& insert, const job::Valve& valve, Seat& seat) {
    seat.insert_wall_outside = insert.outside / 2 - seat.section.points.back().x();
    seat.insert_wall_inside = seat.section.points.front().x() - insert.inside / 2;
    seat.insert_wall = seat.insert_wall_outside;
    // A throat facet that runs out into the ring's bore leaves no wall there, as it should.
    if (*seat.insert_wall_inside > 0)
        seat.insert_wall = std::min(*seat.insert_wall, *seat.insert_wall_inside);
    if (*seat.insert_wall_outside < 0)
        warn(
            "insert-wall", valve.id,
            sentence<"insert-wall">("valve"_is = valve.id, "past"_is = as_length(-*seat.insert_wall_outside)),
            Severity::blocking);
}

void Designer::not_allowed(const job::Valve& valve, const Before& before) {
    const bool worn = before.cleanup.value_or(0) > 0;
    warn("cut-not-allowed", valve.id,
         worn ? sentence<"cut-not-allowed-needed">("valve"_is = valve.id,
                                                   "cleanup"_is = as_length(*before.cleanup))
              : sentence<"cut-not-allowed">("valve"_is = valve.id),
         worn ? Severity::blocking : Severity::note);
}

void Designer::plan() {
    const bool together = job_.depth.plan == job::DepthPlanning::together;
    DepthOutcome outcome =
        together ? plan_in_batch(job_, hold_, out_.head) : plan_depths(before_.problem, job_.units);
    const DepthOutcome alone = plan_depths(problem_alone(before_), job_.units);
    if (!together) after_first(outcome);
    append(settle_seats(job_, before_, outcome, alone, out_.seats));
    for (Seat& seat : out_.seats) seat.since_first = since_first_[seat.valve];
    if (!together && !anew_)
        if (const auto deep = deep_seat_of(before_.problem, outcome))
            out_.warnings.push_back(deep_seat_warning(before_.problem, *deep));
    out_.depth = std::move(outcome.plan);
    out_.warnings.insert(out_.warnings.end(), outcome.warnings.begin(), outcome.warnings.end());
    add_alone(alone);
    if (!anew_) return;
    if (anew_->chosen == job::AfterFirst::open) append(ask_which_plan(job_, *anew_));
    const DepthWay& way = anew_->chosen == job::AfterFirst::anew ? anew_->anew : anew_->shifted;
    for (const auto& broken : way.breaks) {
        out_.depth.feasible = false;
        out_.depth.conflict.push_back(broken);
    }
    if (anew_->chosen != job::AfterFirst::open)
        for (const auto& broken : way.breaks) warn("after-first", std::nullopt, broken, Severity::note);
    out_.depth.anew = std::move(anew_);
}

void Designer::after_first(DepthOutcome& outcome) {
    const auto firsts = deeper_firsts(job_, out_.head, before_, before_.problem, outcome);
    AfterFirstSeats depths = after_first_seats(job_, before_.problem, std::move(outcome), firsts);
    outcome = std::move(depths.outcome);
    anew_ = std::move(depths.anew);
    take_since_first(before_.problem, depths.since_first);
    const HeightProblem heights = height_problem(job_, out_.head, before_);
    AfterFirstSeats raised =
        after_first_seats(job_, heights.problem, heights.planned, heights.firsts, heights.old);
    take_since_first(heights.problem, raised.since_first);
    for (std::size_t i = 0; i < heights.problem.seats.size(); ++i)
        before_.deeper_finish[heights.problem.seats[i].valve] = raised.since_first[i];
    if (!anew_) anew_ = std::move(raised.anew);
}

void Designer::take_since_first(const DepthProblem& problem, const std::vector<double>& since_first) {
    for (std::size_t i = 0; i < problem.seats.size(); ++i)
        since_first_[problem.seats[i].valve] += since_first[i];
}

void Designer::add_alone(const DepthOutcome& alone) {
    if (before_.alone.empty()) return;
    DepthPlan& plan = out_.depth;
    plan.feasible = plan.feasible && alone.plan.feasible;
    plan.conflict.insert(plan.conflict.end(), alone.plan.conflict.begin(), alone.plan.conflict.end());
    plan.conflicts.insert(plan.conflicts.end(), alone.plan.conflicts.begin(), alone.plan.conflicts.end());
    const auto sum = [](std::optional<double>& whole, const std::optional<double>& part) {
        whole = whole && part ? std::optional(*whole + *part) : std::nullopt;
    };
    sum(plan.total, alone.plan.total);
    sum(plan.total_unrounded, alone.plan.total_unrounded);
    out_.warnings.insert(out_.warnings.end(), alone.warnings.begin(), alone.warnings.end());
}

void Designer::cut_to(const std::map<std::string, double>& asked) {
    DepthProblem all = before_.problem;
    all.seats.insert(all.seats.end(), before_.alone.begin(), before_.alone.end());
    AskedDepths answer = cut_as_asked(all, asked, out_.seats);
    if (!answer.changed) return;
    out_.depth.total = answer.total;
    out_.depth.stem_spread = answer.stem_spread;
    out_.depth.chamber_spread = answer.chamber_spread;
    for (auto& warning : answer.broken) {
        out_.depth.feasible = false;
        out_.depth.conflict.push_back(warning.text);
        out_.warnings.push_back(std::move(warning));
    }
}

void Designer::finish_seat(Seat& seat) {
    set_stop(seat);
    if (!seat.depth && !seat.stop_s) return;
    const job::Valve& valve = valve_of(seat);
    const job::SeatForm& form = *job_.seat[valve.kind];
    add_consequences(job_, form, before_.valves[seat.valve], seat);
    const StopAt stop = stop_at(job_, hold_, before_, seat);
    seat.z = stop.z;
    seat.program_z = stop.program_z;
    if (form.tip_grind_max && seat.tip_grind && *seat.tip_grind > *form.tip_grind_max + width_noise)
        warn("tip-grind", valve.id,
             sentence<"tip-grind">("valve"_is = valve.id, "off"_is = as_length(*seat.tip_grind),
                                   "allowed"_is = as_length(*form.tip_grind_max)),
             Severity::note);
    if (!seat.still_old.empty())
        warn("old-surface", valve.id,
             sentence<"old-surface">("valve"_is = valve.id, "from"_is = as_length(seat.still_old.front()[0]),
                                     "to"_is = as_length(seat.still_old.front()[1])),
             Severity::note);
}

void Designer::guide_first(const std::string& valve) {
    const bool let_pass = job::allowance_of(job_, "guide " + valve) != nullptr;
    warn("guide-first", valve, sentence<"guide-first">("valve"_is = valve),
         let_pass ? Severity::note : Severity::blocking);
}

void Designer::order_of_work() {
    for (const auto& choice : find::pilots_of(job_, find_, out_.head))
        if (choice.repair && choice.valve < out_.seats.size() &&
            out_.seats[choice.valve].decision != Decision::not_allowed)
            guide_first(job_.head.valves[choice.valve].id);
    if (job_.depth.deck_cut > 0)
        warn("deck-first", std::nullopt, sentence<"deck-first">("by"_is = as_length(job_.depth.deck_cut)),
             Severity::note);
}

void Designer::assume() {
    std::vector<std::string> short_sections;
    for (const auto& seat : out_.seats)
        if (seat.removed && (seat.worn.front().x() > seat.section.points.front().x() + width_noise ||
                             seat.worn.back().x() < seat.section.points.back().x() - width_noise))
            short_sections.push_back(valve_of(seat).id);
    if (!short_sections.empty())
        out_.assumptions.push_back(
            sentence<"section-short-assumed">("seats"_is = list_of(short_sections, Join::with_and)));
    if (job_.depth.deck_cut > 0 && !job_.head.chamber_area && !before_.chamber.empty())
        out_.assumptions.emplace_back(sentence<"deck-cut-assumed">());
    if (std::any_of(job_.head.obstacles.begin(), job_.head.obstacles.end(),
                    [](const job::Obstacle& o) { return !o.length; }))
        out_.assumptions.emplace_back(sentence<"hole-through-assumed">());
    if (job_.depth.swept && !out_.chambers.empty())
        out_.assumptions.emplace_back(sentence<"compression-assumed">());
    if (std::any_of(job_.head.valves.begin(), job_.head.valves.end(), [&](const job::Valve& v) {
            return job_.seat[v.kind] && job_.seat[v.kind]->insert.has_value();
        }))
        out_.assumptions.emplace_back(sentence<"insert-top-assumed">());
}

}  // namespace seatwright::shape
