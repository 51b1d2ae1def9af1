#include "seatwright/prove/seat.hpp"

#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"
#include "seatwright/base/numerics/statistics.hpp"
#include "seatwright/prove/account.hpp"
#include "seatwright/prove/gauges.hpp"
#include "seatwright/prove/harmonics.hpp"
#include "seatwright/prove/runout.hpp"
#include "seatwright/prove/verdict.hpp"
#include "seatwright/words/english_prove.hpp"

namespace seatwright::prove {

namespace {

Roundness roundness_of(const numerics::ReferenceCircles& circles) {
    return {circles.ls.out_of_round, circles.mz.out_of_round, circles.mc.out_of_round,
            circles.mi.out_of_round};
}

using SeatReadings = std::vector<const job::SeatAfter*>;

void warn(SeatResult& out, const job::Job& job, std::string code, const Sentence& text,
          Severity severity = Severity::note) {
    const auto& id = job.head.valves[out.proof.valve].id;
    out.notices.warnings.push_back({"prove", std::move(code), id,
                                    sentence<"of-head">("head"_is = out.proof.head, "text"_is = text),
                                    severity});
}

void fit_trace(SeatResult& out, const job::Job& job, const job::SeatAfter& reading) {
    SeatProof& proof = out.proof;
    proof.readings = reading.trace;
    const Turn turn = turn_of(reading.trace, reading.angles);
    proof.angle = turn.angle;
    proof.tir = full_swing(turn);
    proof.widest_gap = turn.widest_gap;
    if (turn.size() < least_trace_points) {
        warn(out, job, "trace-short",
             sentence<"trace-short">("readings"_is = turn.size(), "least"_is = least_trace_points));
        return;
    }
    if (has_missing_stretch(turn))
        warn(out, job, "trace-gap",
             sentence<"trace-gap">("gap"_is = as_degrees(turn.widest_gap, 0),
                                   "from"_is = as_degrees(turn.widest_gap_from, 0)));
    const HarmonicFit fit = fit_harmonics(turn);
    proof.harmonics = fit.harmonics;
    proof.noise = fit.noise;
    proof.eccentricity = fit.harmonics.front().amplitude;
    proof.eccentricity_direction = fit.harmonics.front().phase;
    proof.slip = find_slip(turn);
    if (proof.slip)
        warn(
            out, job, "slipped-zero",
            sentence<"slipped-zero">("step"_is = as_fine(proof.slip->step), "reading"_is = proof.slip->at + 1,
                                     "angle"_is = as_degrees(proof.slip->angle, 0)));
    const auto circles = numerics::reference_circles(turn);
    if (circles) {
        proof.circles = *circles;
        proof.roundness = roundness_of(*circles);
    } else {
        warn(out, job, "no-circles", sentence<"no-circles">("error"_is = circles.error().text));
    }
}

// A seat's readings, who took each and with what.
struct Taken {
    const SeatReadings& readings;
    std::vector<Account> accounts;
    Sessions sessions;
};

// One reading's value of a characteristic.
struct GaugedValue {
    double is = 0;
    std::size_t reading = 0;
};

// What the gauge brings. Its error is common to repeats taken with one gauge, so the mean does not shrink it;
// of several gauges the largest counts, which is never too little.
std::vector<BudgetLine> gauge_budget(const job::Job& job, const std::vector<GaugedValue>& values,
                                     const Taken& taken, Quantity quantity) {
    std::optional<double> u, step;
    const auto larger = [](std::optional<double>& of, std::optional<double> said) {
        if (said) of = std::max(of.value_or(0), *said);
    };
    for (const auto& v : values) {
        const StatedGauge stated = stated_gauge(job, taken.accounts[v.reading], quantity);
        larger(u, stated.u);
        larger(step, stated.step);
    }
    std::vector<BudgetLine> out;
    if (u) out.push_back({"gauge", *u, std::nullopt});
    if (step)
        out.push_back({"reading resolution", *step * std::sqrt(figures_of(quantity) / 12.0), std::nullopt});
    return out;
}

// The mean of one characteristic over repeated readings of one seat, with its uncertainty.
Judgement judged(std::string what, const std::vector<GaugedValue>& values, const Taken& taken,
                 std::vector<BudgetLine> budget) {
    Judgement j;
    j.what = std::move(what);
    if (values.empty()) return j;
    std::vector<double> numbers;
    numbers.reserve(values.size());
    for (const auto& v : values) numbers.push_back(v.is);
    const numerics::Summary all = numerics::summary(numbers);
    j.value = all.mean;
    j.session = taken.sessions.of_reading[values.back().reading];
    j.budget = std::move(budget);
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

bool has_limit(const Judgement& j) {
    return j.limit_low || j.limit_high;
}

void settle(SeatResult& out, Judgement j) {
    if (!has_limit(j)) return;
    if (j.value) {
        j.verdict = decide(*j.value, j.limit_low, j.limit_high, j.u.value_or(0));
        if (j.verdict == Verdict::undecided) j.decider = what_would_decide(j);
    }
    out.proof.judgements.push_back(std::move(j));
}

// What may be wrong with the traces; of one that is not drawn a slip is said here.
TraceDoubt doubt_of(SeatResult& out, const job::Job& job, const job::SeatAfter* drawn, const Taken& taken) {
    TraceDoubt doubt;
    for (const auto* r : taken.readings) {
        if (r->trace.empty()) continue;
        const Turn turn = turn_of(r->trace, r->angles);
        doubt.partly |= half_unread(turn);
        if (r == drawn || turn.size() < least_trace_points) continue;
        if (const auto slip = find_slip(turn)) {
            doubt.shift += std::abs(slip->step);
            warn(out, job, "slipped-zero", sentence<"slipped-earlier">("step"_is = as_fine(slip->step)));
        }
    }
    if (out.proof.slip) doubt.shift += std::abs(out.proof.slip->step);
    return doubt;
}

void judge_runout(SeatResult& out, const job::Job& job, const job::SeatForm& form,
                  const job::SeatAfter* drawn, const Taken& taken) {
    std::vector<GaugedValue> values;
    for (std::size_t i = 0; i < taken.readings.size(); ++i) {
        const auto& r = *taken.readings[i];
        if (!r.trace.empty())
            values.push_back({full_swing(turn_of(r.trace, r.angles)), i});
        else if (r.runout)
            values.push_back({*r.runout, i});
    }
    Judgement j = judged("runout", values, taken, gauge_budget(job, values, taken, Quantity::runout));
    out.proof.runout = j.value;
    j.limit_high = form.runout_max;
    j.limit_source = "runout_max of the job";
    TraceDoubt doubt = doubt_of(out, job, drawn, taken);
    if (!has_limit(j)) return;
    if (j.value) {
        doubt.shift /= static_cast<double>(values.size());
        decide_runout(j, doubt);
    }
    out.proof.judgements.push_back(std::move(j));
}

// The mean is judged; a narrowest or widest place that does not pass by itself is judged beside it, since the
// face must be right all the way round.
void judge_width(SeatResult& out, const job::Job& job, const job::SeatForm& form, const Taken& taken) {
    std::vector<GaugedValue> means;
    std::vector<double> all;
    for (std::size_t i = 0; i < taken.readings.size(); ++i)
        if (const auto& width = taken.readings[i]->width; !width.empty()) {
            means.push_back({numerics::summary(width).mean, i});
            all.insert(all.end(), width.begin(), width.end());
        }
    Judgement mean = judged("width", means, taken, gauge_budget(job, means, taken, Quantity::width));
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
    settle(out, std::move(mean));
    for (auto& place : places) settle(out, std::move(place));
}

void judge_stem(SeatResult& out, const job::Job& job, const job::SeatForm& form, const Taken& taken) {
    std::vector<GaugedValue> values;
    for (std::size_t i = 0; i < taken.readings.size(); ++i)
        if (const auto& stem = taken.readings[i]->stem_height) values.push_back({*stem, i});
    Judgement j =
        judged("stem height", values, taken, gauge_budget(job, values, taken, Quantity::stem_height));
    out.proof.stem_height = j.value;
    out.proof.stem_height_u = j.u;
    j.limit_low = form.stem_height_min;
    j.limit_high = form.stem_height_max;
    j.limit_source = !j.limit_low    ? "stem_height_max of the job"
                     : !j.limit_high ? "stem_height_min of the job"
                                     : "stem_height_min, stem_height_max of the job";
    settle(out, std::move(j));
}

// A vacuum never outweighs a runout. By common practice only where one was read; a limit of the job's own
// wants a reading. gauge_u is a length: of a pressure only the scatter of repeats is known.
void judge_vacuum(SeatResult& out, const job::SeatForm& form, const Taken& taken) {
    std::vector<GaugedValue> levels, losses;
    for (std::size_t i = 0; i < taken.readings.size(); ++i) {
        const auto& r = *taken.readings[i];
        if (r.vacuum) levels.push_back({*r.vacuum, i});
        if (r.vacuum && r.vacuum_after && r.vacuum_seconds)
            losses.push_back({(*r.vacuum - *r.vacuum_after) / *r.vacuum_seconds * loss_seconds, i});
    }
    Judgement held = judged("vacuum", levels, taken, {});
    out.proof.vacuum = held.value;
    if (held.value || form.vacuum_min) {
        held.limit_low = least_vacuum(form);
        held.limit_source =
            form.vacuum_min ? "vacuum_min of the job" : "20 inHg with the pump running, common practice";
        settle(out, std::move(held));
    }
    Judgement loss = judged("vacuum loss", losses, taken, {});
    if (loss.value) out.proof.leak_rate = *loss.value / loss_seconds;
    if (loss.value || form.vacuum_loss_max) {
        loss.limit_high = form.vacuum_loss_max.value_or(usual_loss_inhg * kpa_per_inhg);
        loss.limit_source = form.vacuum_loss_max ? "vacuum_loss_max of the job, in 10 s"
                                                 : "5 inHg in 10 s with the pump shut off, common practice";
        settle(out, std::move(loss));
    }
}

Sentence what_said(std::string_view what) {
    if (what == "runout") return sentence<"runout">();
    if (what == "width, narrowest place") return sentence<"width-narrowest">();
    if (what == "width, widest place") return sentence<"width-widest">();
    if (what == "width") return sentence<"width">();
    if (what == "stem height") return sentence<"stem-height">();
    if (what == "vacuum loss") return sentence<"vacuum-loss">();
    require(what == "vacuum", "every characteristic has a name in sentences");
    return sentence<"vacuum">();
}

void say_failures(SeatResult& out, const job::Job& job) {
    for (const auto& j : out.proof.judgements) {
        if (j.verdict == Verdict::fail)
            warn(out, job, "out-of-limit",
                 j.what == "vacuum" ? sentence<"vacuum-below">("vacuum"_is = as_vacuum(*j.value),
                                                               "limit"_is = as_vacuum(*j.limit_low))
                 : j.what == "vacuum loss"
                     ? sentence<"vacuum-loss-above">("loss"_is = as_vacuum(*j.value),
                                                     "limit"_is = as_vacuum(*j.limit_high))
                     : sentence<"outside-limits">("what"_is = what_said(j.what),
                                                  "value"_is = as_fine(*j.value)),
                 Severity::blocking);
        if (j.verdict == Verdict::undecided)
            warn(out, job, "undecided",
                 sentence<"undecided">("what"_is = what_said(j.what), "decider"_is = j.decider));
        if (j.verdict == Verdict::not_measured)
            warn(out, job, "not-measured", sentence<"not-measured">("what"_is = what_said(j.what)));
    }
}

void last_said(std::string& kept, const std::string& said) {
    if (!said.empty()) kept = said;
}

// "bench 1; bench 2": what the sessions say, each once.
std::string each_once(const std::vector<Session>& sessions, std::string Session::*key) {
    std::vector<std::string> said;
    for (const auto& s : sessions)
        if (!(s.*key).empty() && std::find(said.begin(), said.end(), s.*key) == said.end())
            said.push_back(s.*key);
    return fmt::format("{}", fmt::join(said, "; "));
}

}  // namespace

double least_vacuum(const job::SeatForm& form) {
    return form.vacuum_min.value_or(usual_vacuum_inhg * kpa_per_inhg);
}

SeatResult prove_seat(const job::Job& job, std::size_t valve, const SeatReadings& readings) {
    SeatResult out;
    SeatProof& proof = out.proof;
    proof.head = readings.front()->head;
    proof.valve = valve;
    auto accounts = accounts_of(readings);
    auto sessions = sessions_of(readings, accounts);
    const Taken taken{readings, std::move(accounts), std::move(sessions)};
    proof.sessions = taken.sessions.all;
    proof.by = each_once(proof.sessions, &Session::by);
    proof.date = each_once(proof.sessions, &Session::date);
    proof.gauge = each_once(proof.sessions, &Session::gauge);
    proof.calibrated = each_once(proof.sessions, &Session::calibrated);
    const job::SeatAfter* trace = nullptr;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        last_said(proof.accepted_by, readings[i]->accepted_by);
        last_said(proof.cutter, readings[i]->cutter);
        if (readings[i]->trace.empty()) continue;
        trace = readings[i];
        proof.trace_session = taken.sessions.of_reading[i];
    }
    if (trace) fit_trace(out, job, *trace);
    for (const auto* r : readings)
        if (!trace && r->runout) proof.tir = r->runout;
    // Without a drawing there are no limits; what was measured is given all the same.
    const job::SeatForm form = job.seat[job.head.valves[valve].kind].value_or(job::SeatForm{});
    judge_runout(out, job, form, trace, taken);
    judge_width(out, job, form, taken);
    judge_stem(out, job, form, taken);
    judge_vacuum(out, form, taken);
    if (proof.judgements.empty()) {
        warn(out, job, "no-limits", sentence<"no-limits">());
        proof.verdict = Verdict::undecided;
    } else {
        proof.verdict = Verdict::pass;
        for (const auto& j : proof.judgements) proof.verdict = worse(proof.verdict, j.verdict);
    }
    say_failures(out, job);
    return out;
}

}  // namespace seatwright::prove
