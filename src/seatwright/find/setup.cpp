#include "seatwright/find/setup.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/length_words.hpp"
#include "seatwright/find/guides.hpp"
#include "seatwright/find/next_touch.hpp"
#include "seatwright/find/pattern.hpp"
#include "seatwright/find/square.hpp"
#include "seatwright/find/stood_by.hpp"
#include "seatwright/find/suspects.hpp"

namespace seatwright::find {
namespace {

const std::string& valve_id(const job::Job& job, const SetupInput& input, std::size_t guide) {
    return job.head.valves[input.setup->valves[guide].valve].id;
}

void say_way_round(SetupOutcome& outcome, const SetupInput& input, const Recognised& other) {
    outcome.warnings.push_back(
        {"find", "wrong-way-round", std::nullopt,
         fmt::format(
             "head {}, setup {}: the touches do not fit the pattern as declared (p = {:.1e}) but fit it {} "
             "(p = {:.2f}). Check how the head lies, or the job's pattern and mirror, before anything is "
             "cut.",
             input.head, input.setup->id, other.declared_p, words(other.hypothesis.pattern), other.p),
         Severity::blocking});
}

// Some layouts look the same the other way round, so that no touch could ever tell.
void say_look_alikes(SetupOutcome& outcome, const SetupInput& input, double touch_sd) {
    const std::vector<Pattern> alike = look_alikes(input.guides, touch_sd);
    if (alike.empty()) return;
    FoundSetup& found = outcome.found;
    found.pattern_undecidable = true;
    for (std::size_t i = 0; i < alike.size(); ++i)
        found.alike += fmt::format("{}{}",
                                   i == 0                  ? ""
                                   : i + 1 == alike.size() ? " or "
                                                           : ", ",
                                   words(alike[i]));
}

void say_suspects(SetupOutcome& outcome, const job::Job& job, const SetupInput& input,
                  std::span<const Reading> readings, const Sorted& sorted) {
    for (std::size_t i = 0; i < readings.size(); ++i) {
        if (!sorted.set_aside[i]) continue;
        outcome.warnings.push_back(
            {"find", "suspect-touch", valve_id(job, input, readings[i].guide),
             fmt::format("head {}: the touch at {}, {} does not agree with the others (d2 = {:.1f}, limit "
                         "{:.1f}). It is set aside and kept on record: touch this guide again; if the guide "
                         "really stands there, keep = true beside the reading uses it for this guide alone.",
                         input.head, length_words(readings[i].at.x(), job.units),
                         length_words(readings[i].at.y(), job.units), sorted.innovation2[i].value_or(0),
                         suspect_threshold(sorted.kept.size() + 1)),
             Severity::note});
    }
    if (sorted.undecidable)
        outcome.warnings.push_back(
            {"find", "touches-disagree", std::nullopt,
             fmt::format("head {}, setup {}: two touches disagree and nothing says which is "
                         "wrong. Touch a third guide.",
                         input.head, input.setup->id),
             Severity::blocking});
}

void say_stood_by(SetupOutcome& outcome, const job::Job& job, const SetupInput& input,
                  std::span<const Reading> readings, bool alone) {
    for (const Reading& reading : readings)
        if (reading.keep)
            outcome.assumptions.push_back(fmt::format(
                "takes the touch of {} on head {} at the machinist's word (keep = true): {}.",
                valve_id(job, input, reading.guide), input.head,
                alone ? "it places that guide and says nothing of the others"
                      : "the other touches do not say how the setup lies, so all are used alike"));
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
    std::string advice =
        "No number of touches reaches it: a smaller pilot tip, a wider mouth or a finer machine would.";
    if (plan.to_target && plan.next)
        advice = fmt::format("Touch {} next; {} more would do.", job.head.valves[*found.next_touch].id,
                             *plan.to_target);
    outcome.warnings.push_back(
        {"find", "enter-target", std::nullopt,
         fmt::format("head {}, setup {}: the least enter probability is {:.4f}, below {:.4f}. {}", input.head,
                     input.setup->id, *found.least_enter_probability, job.find.enter_target, advice),
         Severity::note});
}

// With nothing touched and no carry, the machine's readout is taken as zeroed over the datum guide.
void assume_datum(SetupOutcome& outcome, const job::Job& job, const SetupInput& input,
                  std::vector<Reading>& readings) {
    for (std::size_t v = 0; v < input.setup->valves.size(); ++v)
        if (input.setup->valves[v].valve == input.setup->datum)
            readings.push_back({v, Vec2::Zero(), job.find.touch_sd, std::nullopt});
    outcome.found.datum_assumed = true;
    outcome.assumptions.push_back(
        fmt::format("assumes that in setup {} the readout is zeroed over guide {}, nothing being touched.",
                    input.setup->id, job.head.valves[input.setup->datum].id));
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
        outcome.warnings.push_back({"find", "no-fit", std::nullopt,
                                    fmt::format("head {}, setup {}: {} ({} steps)", input.head,
                                                input.setup->id, pose.error().text, pose.error().iterations),
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
