#include "seatwright/prove/seat.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/prove/harmonics.hpp"
#include "seatwright/prove/roundness.hpp"
#include "seatwright/prove/say.hpp"
#include "seatwright/prove/statistics.hpp"
#include "seatwright/prove/verdict.hpp"

namespace seatwright::prove {

namespace {

using Readings = std::vector<const job::SeatAfter*>;

void warn(SeatResult& out, const job::Job& job, std::string code, std::string text,
          Weight weight = Weight::note) {
    const auto& id = job.head.valves[out.proof.valve].id;
    out.notices.warnings.push_back(
        {"prove", std::move(code), id, fmt::format("head {}: {}", out.proof.head, text), weight});
}

void fit_trace(SeatResult& out, const job::Job& job, const job::SeatAfter& reading) {
    SeatProof& proof = out.proof;
    proof.readings = reading.trace;
    const Turn turn = turn_of(reading.trace, reading.angles);
    proof.angle = turn.angle;
    proof.tir = full_swing(turn);
    if (turn.size() < least_trace_points) {
        warn(out, job, "trace-short",
             fmt::format("{} readings give a runout but no shape; take at least {}", turn.size(),
                         least_trace_points));
        return;
    }
    proof.widest_gap = turn.widest_gap;
    if (has_missing_stretch(turn))
        warn(
            out, job, "trace-gap",
            fmt::format("nothing was read over {:.0f} deg from {:.0f} deg on: runout and out-of-round are of "
                        "what was read and may be larger",
                        deg(turn.widest_gap), deg(turn.widest_gap_from)));
    const HarmonicFit fit = fit_harmonics(turn);
    proof.harmonics = fit.harmonics;
    proof.noise = fit.noise;
    proof.eccentricity = fit.harmonics.front().amplitude;
    proof.eccentricity_direction = fit.harmonics.front().phase;
    proof.slip = find_slip(turn);
    if (proof.slip)
        warn(out, job, "slipped-zero",
             fmt::format("the zero seems to have slipped by {} at reading {} ({:.0f} deg): fix the gauge and "
                         "take the trace again",
                         say(proof.slip->step, job.units), proof.slip->at + 1, deg(proof.slip->angle)));
    const auto circles = reference_circles(turn);
    if (circles) {
        proof.circles = *circles;
        proof.roundness = roundness_of(*circles);
    } else {
        warn(out, job, "no-circles", fmt::format("no reference circles: {}", circles.error().text));
    }
}

// The last reading that says it.
std::optional<double> last_of(const Readings& readings, std::optional<double> job::SeatAfter::*key) {
    for (auto at = readings.rbegin(); at != readings.rend(); ++at)
        if ((*at)->*key) return (*at)->*key;
    return std::nullopt;
}

// The values of one characteristic over repeated readings of one seat. `shown` figures of the gauge make one
// value: each may lie anywhere within its step (JCGM 100 F.2.2.1).
Judgement judged(std::string what, const std::vector<double>& values, const Readings& readings, int shown) {
    Judgement j;
    j.what = std::move(what);
    if (values.empty()) return j;
    const Summary all = summary(values);
    j.value = all.mean;
    if (const auto u = last_of(readings, &job::SeatAfter::gauge_u))
        j.budget.push_back({"gauge", *u, std::nullopt});
    if (const auto step = last_of(readings, &job::SeatAfter::resolution))
        j.budget.push_back({"reading resolution", *step * std::sqrt(shown / 12.0), std::nullopt});
    if (values.size() > 1)
        j.budget.push_back({fmt::format("repeat, {} readings", values.size()),
                            all.sd / std::sqrt(static_cast<double>(values.size())),
                            static_cast<double>(values.size()) - 1});
    if (!j.budget.empty()) {
        const Uncertainty u = combine(j.budget);
        j.u = u.expanded;
        j.coverage = u.coverage;
    }
    return j;
}

void settle(SeatResult& out, const job::Job& job, Judgement j) {
    if (!j.limit_low && !j.limit_high) return;
    if (j.value) {
        j.verdict = decide(*j.value, j.limit_low, j.limit_high, j.u.value_or(0));
        if (j.verdict == Verdict::undecided) j.decider = what_would_decide(j, job.units);
        if (j.what == "runout" && out.proof.slip) {
            j.verdict = Verdict::undecided;
            j.decider = "a new trace: the zero of this one seems to have slipped";
        }
    }
    out.proof.judgements.push_back(std::move(j));
}

void judge_runout(SeatResult& out, const job::Job& job, const job::SeatForm& form, const Readings& readings) {
    std::vector<double> values;
    for (const auto* r : readings) {
        if (!r->trace.empty())
            values.push_back(full_swing(turn_of(r->trace, r->angles)));
        else if (r->runout)
            values.push_back(*r->runout);
    }
    Judgement j = judged("runout", values, readings, 2);
    out.proof.runout = j.value;
    j.limit_high = form.runout_max;
    j.limit_source = "runout_max of the job";
    settle(out, job, std::move(j));
}

// The mean is judged; a narrowest or widest place that does not pass by itself is judged beside it, since the
// face must be right all the way round.
void judge_width(SeatResult& out, const job::Job& job, const job::SeatForm& form, const Readings& readings) {
    std::vector<double> means, all;
    for (const auto* r : readings)
        if (!r->width.empty()) {
            means.push_back(summary(r->width).mean);
            all.insert(all.end(), r->width.begin(), r->width.end());
        }
    Judgement mean = judged("width", means, readings, 1);
    out.proof.width = mean.value;
    if (!form.width_tol) return;
    mean.limit_low = form.width - *form.width_tol;
    mean.limit_high = form.width + *form.width_tol;
    mean.limit_source = "width and width_tol of the job";
    std::vector<Judgement> places;
    if (all.size() > means.size()) {
        const auto [low, high] = std::minmax_element(all.begin(), all.end());
        for (const auto& [what, value] :
             {std::pair{"width, narrowest place", *low}, {"width, widest place", *high}}) {
            Judgement place = mean;
            place.what = what;
            place.value = value;
            if (decide(value, place.limit_low, place.limit_high, place.u.value_or(0)) != Verdict::pass)
                places.push_back(std::move(place));
        }
    }
    settle(out, job, std::move(mean));
    for (auto& place : places) settle(out, job, std::move(place));
}

void judge_stem(SeatResult& out, const job::Job& job, const job::SeatForm& form, const Readings& readings) {
    std::vector<double> values;
    for (const auto* r : readings)
        if (r->stem_height) values.push_back(*r->stem_height);
    Judgement j = judged("stem height", values, readings, 1);
    out.proof.stem_height = j.value;
    j.limit_high = form.stem_height_max;
    j.limit_source = "stem_height_max of the job";
    settle(out, job, std::move(j));
}

// A vacuum never outweighs a runout. By common practice only where one was read; a limit of the job's own
// wants a reading.
void judge_vacuum(SeatResult& out, const job::Job& job, const job::SeatForm& form, const Readings& readings) {
    for (const auto* r : readings) {
        if (r->vacuum) out.proof.vacuum = *r->vacuum;
        if (r->vacuum && r->vacuum_after && r->vacuum_seconds)
            out.proof.leak_rate = (*r->vacuum - *r->vacuum_after) / *r->vacuum_seconds;
    }
    if (out.proof.vacuum || form.vacuum_min) {
        Judgement held;
        held.what = "vacuum";
        held.value = out.proof.vacuum;
        held.limit_low = least_vacuum(form);
        held.limit_source =
            form.vacuum_min ? "vacuum_min of the job" : "20 inHg with the pump running, common practice";
        settle(out, job, std::move(held));
    }
    if (out.proof.leak_rate || form.vacuum_loss_max) {
        Judgement loss;
        loss.what = "vacuum loss";
        if (out.proof.leak_rate) loss.value = *out.proof.leak_rate * loss_seconds;
        loss.limit_high = form.vacuum_loss_max.value_or(usual_loss_inhg * kpa_per_inhg);
        loss.limit_source = form.vacuum_loss_max ? "vacuum_loss_max of the job, in 10 s"
                                                 : "5 inHg in 10 s with the pump shut off, common practice";
        settle(out, job, std::move(loss));
    }
}

void say_failures(SeatResult& out, const job::Job& job) {
    for (const auto& j : out.proof.judgements) {
        if (j.verdict == Verdict::fail)
            warn(out, job, "out-of-limit",
                 j.what == "vacuum" ? fmt::format("vacuum {} is below {}", say_vacuum(*j.value, job.units),
                                                  say_vacuum(*j.limit_low, job.units))
                 : j.what == "vacuum loss"
                     ? fmt::format("vacuum loss in 10 s, {}, is above {}", say_vacuum(*j.value, job.units),
                                   say_vacuum(*j.limit_high, job.units))
                     : fmt::format("{} {} is outside its limits by more than the uncertainty", j.what,
                                   say(*j.value, job.units)),
                 Weight::blocking);
        if (j.verdict == Verdict::undecided)
            warn(out, job, "undecided",
                 fmt::format("{} is undecided; what would decide it: {}", j.what, j.decider));
        if (j.verdict == Verdict::not_measured)
            warn(out, job, "not-measured", fmt::format("{} has a limit but was not measured", j.what));
    }
}

void last_said(std::string& kept, const std::string& said) {
    if (!said.empty()) kept = said;
}

}  // namespace

double least_vacuum(const job::SeatForm& form) {
    return form.vacuum_min.value_or(usual_vacuum_inhg * kpa_per_inhg);
}

SeatResult prove_seat(const job::Job& job, std::size_t valve, const Readings& readings) {
    SeatResult out;
    SeatProof& proof = out.proof;
    proof.head = readings.front()->head;
    proof.valve = valve;
    const job::SeatAfter* trace = nullptr;
    for (const auto* r : readings) {
        last_said(proof.by, r->by);
        last_said(proof.date, r->date);
        last_said(proof.gauge, r->gauge);
        last_said(proof.calibrated, r->calibrated);
        last_said(proof.accepted_by, r->accepted_by);
        last_said(proof.cutter, r->cutter);
        if (!r->trace.empty()) trace = r;
    }
    if (trace) fit_trace(out, job, *trace);
    for (const auto* r : readings)
        if (!trace && r->runout) proof.tir = r->runout;
    // Without a drawing there are no limits; what was measured is given all the same.
    const job::SeatForm form = job.seat[job.head.valves[valve].kind].value_or(job::SeatForm{});
    judge_runout(out, job, form, readings);
    judge_width(out, job, form, readings);
    judge_stem(out, job, form, readings);
    judge_vacuum(out, job, form, readings);
    if (proof.judgements.empty()) {
        warn(out, job, "no-limits", "nothing to judge by: the job gives no limit for what was measured");
        proof.verdict = Verdict::undecided;
    } else {
        proof.verdict = Verdict::pass;
        for (const auto& j : proof.judgements) proof.verdict = worse(proof.verdict, j.verdict);
    }
    say_failures(out, job);
    return out;
}

}  // namespace seatwright::prove
