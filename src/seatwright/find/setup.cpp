#include "seatwright/find/setup.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/find/guides.hpp"
#include "seatwright/find/next_touch.hpp"
#include "seatwright/find/pattern.hpp"
#include "seatwright/find/square.hpp"
#include "seatwright/find/stood_by.hpp"
#include "seatwright/find/suspects.hpp"
#include "seatwright/words/english_find.hpp"

namespace seatwright::find {
namespace {

const std::string& valve_id(const job::Job& job, const SetupInput& input, std::size_t guide) {
    return job.head.valves[input.setup->valves[guide].valve].id;
}

void say_way_round(SetupOutcome& outcome, const SetupInput& input, const Recognised& other) {
    outcome.warnings.push_back(
        {"find", "wrong-way-round", std::nullopt,
         sentence<"wrong-way-round">("head"_is = input.head, "setup"_is = input.setup->id,
                                     "declared_p"_is = as_power_of_ten(other.declared_p, 1),
                                     "way"_is = words_of(other.hypothesis.pattern),
                                     "p"_is = as_number(other.p, 2)),
         Severity::blocking});
}

// Some layouts look the same the other way round, so that no touch could ever tell.
void say_look_alikes(SetupOutcome& outcome, const SetupInput& input, double touch_sd) {
    const std::vector<Pattern> alike = look_alikes(input.guides, touch_sd);
    if (alike.empty()) return;
    FoundSetup& found = outcome.found;
    found.pattern_undecidable = true;
    List around{Join::with_or, {}};
    around.items.reserve(alike.size());
    for (const Pattern pattern : alike) around.items.emplace_back(words_of(pattern));
    found.alike = row(std::move(around));
}

void say_suspects(SetupOutcome& outcome, const job::Job& job, const SetupInput& input,
                  std::span<const Reading> readings, const Sorted& sorted) {
    for (std::size_t i = 0; i < readings.size(); ++i) {
        if (!sorted.set_aside[i]) continue;
        outcome.warnings.push_back(
            {"find", "suspect-touch", valve_id(job, input, readings[i].guide),
             sentence<"suspect-touch">("head"_is = input.head, "x"_is = as_length(readings[i].at.x()),
                                       "y"_is = as_length(readings[i].at.y()),
                                       "d2"_is = as_number(sorted.innovation2[i].value_or(0), 1),
                                       "limit"_is = as_number(suspect_threshold(sorted.kept.size() + 1), 1)),
             Severity::note});
    }
    if (sorted.undecidable)
        outcome.warnings.push_back(
            {"find", "touches-disagree", std::nullopt,
             sentence<"touches-disagree">("head"_is = input.head, "setup"_is = input.setup->id),
             Severity::blocking});
}

void say_stood_by(SetupOutcome& outcome, const job::Job& job, const SetupInput& input,
                  std::span<const Reading> readings, bool alone) {
    for (const Reading& reading : readings)
        if (reading.keep)
            outcome.assumptions.push_back(sentence<"kept-by-word">(
                "valve"_is = valve_id(job, input, reading.guide), "head"_is = input.head,
                "then"_is = alone ? sentence<"keep-alone">() : sentence<"keep-all-alike">()));
}

void place_all(SetupOutcome& outcome, const job::Job& job, const SetupInput& input,
               std::span<const Expected> guides, std::span<const Combined> read, const Pose& pose) {
    FoundSetup& found = outcome.found;
    for (std::size_t v = 0; v < guides.size(); ++v) {
        const Place place = place_guide(guides[v], read[v], pose);
        FoundGuide& guide = found.guides[v];
        guide.at = place.at;
        guide.covariance = place.covariance;
        guide.programmed = as_programmed(place.at, job.machine.resolution);
        guide.placed = pose.yaw_known || (guides[v].map - pose.centroid).norm() < 1e-6;
        guide.entry_clearance = input.clearance[v];
        if (!input.clearance[v]) continue;
        guide.enter_probability =
            enter_probability(place, guide.programmed, job.find.positioning_sd, *input.clearance[v]);
        found.least_enter_probability =
            std::min(found.least_enter_probability.value_or(1.0), *guide.enter_probability);
    }
}

void plan_further(SetupOutcome& outcome, const job::Job& job, const SetupInput& input,
                  std::span<const Expected> guides, std::span<const Combined> read, const Pose& pose) {
    FoundSetup& found = outcome.found;
    std::vector<bool> may_touch;
    for (std::size_t v = 0; v < guides.size(); ++v)
        may_touch.push_back(!found.guides[v].touched && !(read[v].weight > 0));
    // A least probability that leaves guides out is no answer for the setup.
    const bool all_known = std::all_of(input.clearance.begin(), input.clearance.end(),
                                       [](const auto& c) { return c.has_value(); });
    const TouchPlan plan = plan_touches(guides, read, pose, input.clearance,
                                        all_known ? found.least_enter_probability : std::nullopt, may_touch,
                                        {job.find.touch_sd, job.find.positioning_sd, job.find.enter_target});
    if (plan.next) found.next_touch = input.setup->valves[*plan.next].valve;
    found.touches_to_target = plan.to_target;
    if (!all_known || !found.least_enter_probability ||
        *found.least_enter_probability >= job.find.enter_target)
        return;
    Sentence advice = sentence<"no-number-reaches">();
    if (plan.to_target && plan.next)
        advice = sentence<"touch-next">("guide"_is = job.head.valves[*found.next_touch].id,
                                        "more"_is = *plan.to_target);
    outcome.warnings.push_back(
        {"find", "enter-target", std::nullopt,
         sentence<"enter-target">("head"_is = input.head, "setup"_is = input.setup->id,
                                  "least"_is = as_number(*found.least_enter_probability, 4),
                                  "target"_is = as_number(job.find.enter_target, 4), "advice"_is = advice),
         Severity::note});
}

// With nothing touched and no carry, the machine's readout is taken as zeroed over the datum guide.
void assume_datum(SetupOutcome& outcome, const job::Job& job, const SetupInput& input,
                  std::vector<Reading>& readings) {
    for (std::size_t v = 0; v < input.setup->valves.size(); ++v)
        if (input.setup->valves[v].valve == input.setup->datum)
            readings.push_back({v, Vec2::Zero(), job.find.touch_sd, std::nullopt});
    outcome.found.datum_assumed = true;
    outcome.assumptions.push_back(sentence<"readout-zeroed">(
        "setup"_is = input.setup->id, "guide"_is = job.head.valves[input.setup->datum].id));
}

void mark_touched(FoundSetup& found, std::span<const Reading> readings, const Sorted& sorted) {
    for (std::size_t i = 0; i < readings.size(); ++i) {
        if (!readings[i].touch) continue;
        FoundGuide& guide = found.guides[readings[i].guide];
        guide.touched = true;
        if (sorted.suspect[i]) guide.suspect = true;
        if (sorted.set_aside[i]) found.set_aside.push_back(*readings[i].touch);
        if (sorted.innovation2[i])
            guide.innovation2 = std::max(guide.innovation2.value_or(0), *sorted.innovation2[i]);
    }
}

}  // namespace

Prior prior_of(const job::FindRules& rules) {
    if (rules.carry) return {rules.carry->yaw, rules.carry->yaw_sd, rules.carry->offset, rules.carry->sd};
    return {0, rules.yaw_sd, Vec2::Zero(), std::nullopt};
}

SetupOutcome locate_setup(const job::Job& job, const hold::Hold& hold, const SetupInput& input) {
    SetupOutcome outcome;
    FoundSetup& found = outcome.found;
    found.id = input.setup->id;
    for (const hold::Held& held : input.setup->valves) found.guides.emplace_back().valve = held.valve;
    found.assignments = input.assignments;
    say_look_alikes(outcome, input, job.find.touch_sd);
    std::vector<Expected> guides = input.guides;
    std::vector<Reading> readings = input.readings;
    Prior prior = input.prior;
    const std::size_t touches = readings.size();
    if (readings.empty() && !prior.offset_sd) assume_datum(outcome, job, input, readings);

    if (const auto other = recognise(guides, others_than_stood_by(readings), prior)) {
        say_way_round(outcome, input, *other);
        found.pattern = other->hypothesis.pattern;
        for (std::size_t v = 0; v < guides.size(); ++v) guides[v].map = other->hypothesis.maps[v];
        for (Reading& r : readings) r.guide = other->hypothesis.true_name[r.guide];
        prior.offset_sd.reset();
    }
    const Sorted sorted = sort_out(guides, readings, prior);
    mark_touched(found, readings, sorted);
    say_suspects(outcome, job, input, readings, sorted);

    const auto pose = fit_pose(guides, sorted.kept, prior);
    if (!pose) {
        outcome.warnings.push_back(
            {"find", "no-fit", std::nullopt,
             sentence<"no-fit">("head"_is = input.head, "setup"_is = input.setup->id,
                                "error"_is = pose.error().text, "steps"_is = pose.error().iterations),
             Severity::blocking});
        for (FoundGuide& guide : found.guides) guide.placed = false;
        found.yaw_known = false;
        return outcome;
    }
    // From here on the guides that a person's word places lie there; the pose does not know of them.
    const bool alone = !sorted.stood_by_needed;
    const std::vector<Combined> read =
        alone ? combine_stood_by(guides.size(), sorted.kept, readings) : combine(guides.size(), sorted.kept);
    if (alone) guides = set_free(std::move(guides), readings);
    say_stood_by(outcome, job, input, readings, alone);
    outcome.kept = sorted.kept;
    outcome.pose = *pose;
    found.learned_from = input.learned_from;
    found.yaw = pose->yaw;
    found.yaw_sd = std::sqrt(pose->yaw_variance);
    found.yaw_known = pose->yaw_known;
    found.offset = pose->offset();
    found.chi2 = pose->chi2;
    found.dof = degrees_of_freedom(found.datum_assumed ? touches : sorted.kept.size(), prior);
    found.p_value = chi_square_p(found.chi2, found.dof);
    place_all(outcome, job, input, guides, read, *pose);
    plan_further(outcome, job, input, guides, read, *pose);
    if (pose->yaw_known) found.square = square_up(job, hold, *input.setup, found.yaw, found.yaw_sd);
    return outcome;
}

}  // namespace seatwright::find
