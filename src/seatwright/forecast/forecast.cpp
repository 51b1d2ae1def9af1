#include "seatwright/forecast/forecast.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <thread>

#include "seatwright/forecast/causes.hpp"
#include "seatwright/forecast/changes.hpp"
#include "seatwright/forecast/characteristics.hpp"
#include "seatwright/forecast/draw.hpp"
#include "seatwright/forecast/integrate.hpp"
#include "seatwright/forecast/limits.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/words/english_forecast.hpp"

namespace seatwright::forecast {
namespace {

// Of sums over attitudes for what is compared on the same places.
constexpr double rough_fineness = 1.25;
// The blade is due where the chance of a good head has fallen by so much below a fresh blade's.
constexpr double worn_out = 0.01;

void warn(Forecast& out, const char* code, Sentence text) {
    out.warnings.push_back({"forecast", code, std::nullopt, std::move(text), Severity::note});
}

void say_unjudged(Forecast& out, const Batch& batch) {
    std::vector<Sentence> missing;
    const auto name = [&](Sentence what) { missing.push_back(std::move(what)); };
    const auto any = [&](auto&& has) { return std::any_of(batch.seats.begin(), batch.seats.end(), has); };
    if (!batch.runout_u && any([](const Seat& s) { return s.runout_max.has_value(); }))
        name(sentence<"runout-gauge">());
    if (!batch.width_u && any([](const Seat& s) { return s.width_tol.has_value(); }))
        name(sentence<"width-gauge">());
    if (!batch.height_u && (batch.stem_spread || any([](const Seat& s) { return !s.height.open(); })))
        name(sentence<"height-gauge">());
    if (!missing.empty())
        warn(out, "gauge-not-known", sentence<"gauge-not-known">("what"_is = list_of(missing, Join::commas)));
}

void say_limits(Forecast& out, const job::Job& job, const Batch& batch) {
    List without{Join::commas, {}};
    for (const auto kind : job::both_kinds)
        for (const Seat& seat : batch.seats) {
            if (seat.kind != kind) continue;
            const char* name = job::kind_word(kind);
            const auto add = [&](const char* key) {
                without.items.emplace_back(Key{fmt::format("seat.{}.{}", name, key)});
            };
            if (!seat.runout_max) add("runout_max");
            if (!seat.width_tol) add("width_tol");
            if (seat.height.open() && job.seat[kind] && !job.seat[kind]->stem_height_max)
                add("stem_height_max");
            break;
        }
    if (!batch.stem_spread) without.items.emplace_back(Key{"depth.stem_spread"});
    if (!without.items.empty()) warn(out, "no-limit", sentence<"no-limit">("keys"_is = without));
    std::vector<std::string> unknown;
    for (const Seat& seat : batch.seats)
        if (!seat.room && job.cut.pilot != job::PilotUse::planted && job.cut.pilot != job::PilotUse::none)
            unknown.push_back(job.head.valves[seat.valve].id);
    if (!unknown.empty())
        warn(out, "entry-not-known",
             sentence<"entry-not-known">("valves"_is = list_of(unknown, Join::commas)));
}

// More touches than a setup has guides are all of it.
void say_touches(Forecast& out, const Known& known, std::size_t most) {
    if (!known.touches_planned && known.touches > static_cast<int>(most))
        warn(out, "touches-beyond",
             sentence<"touches-beyond">("touches"_is = known.touches, "most"_is = static_cast<int>(most)));
}

bool anything_to_judge(const Batch& batch) {
    return batch.stem_spread || std::any_of(batch.seats.begin(), batch.seats.end(), [](const Seat& s) {
               return s.room || s.runout_max || s.width_tol || !s.height.open();
           });
}

// One thread draws as many as all the others: the machine's count, or what was asked for.
int threads_of(const Asked& asked) {
    constexpr int most = 64;
    const int own = static_cast<int>(std::thread::hardware_concurrency());
    return std::clamp(asked.threads > 0 ? asked.threads : own, 1, most);
}

// 95 % of a share counted `hits` times in `n`; of none or all the limit that 95 % of such counts keep.
double counted_error(double p, double n) {
    constexpr double two_sided = 1.959964, none = 3.0;
    return std::max(two_sided * std::sqrt(p * (1 - p) / n), none / n * (p <= 0 || p >= 1 ? 1 : 0));
}

// Replaces what was integrated by what is drawn.
void drawn(Forecast& out, const MadeBatch& made, const Asked& asked) {
    const Drawn found = draw({made.batch, *asked.draws, asked.seed, threads_of(asked), asked.stop, {}});
    out.draws = found.heads;
    out.seed = asked.seed;
    if (found.heads == 0) return;
    const double n = static_cast<double>(found.heads);
    const auto part = [&](std::uint64_t hits) { return static_cast<double>(hits) / n; };
    if (out.pass_rate) {
        const double shift = part(found.good) - *out.pass_rate;
        out.pass_rate = part(found.good);
        out.pass_error = counted_error(*out.pass_rate, n);
        for (auto* limit : {&out.pass_low, &out.pass_high})
            if (*limit) *limit = std::clamp(**limit + shift, 0.0, 1.0);
        if (out.pass_low) out.pass_low = std::min(*out.pass_low, *out.pass_rate);
        if (out.pass_high) out.pass_high = std::max(*out.pass_high, *out.pass_rate);
        for (std::size_t h = 0; h < out.by_head.size(); ++h)
            if (found.by_head[h] > 0)
                out.by_head[h] =
                    static_cast<double>(found.good_by_head[h]) / static_cast<double>(found.by_head[h]);
    }
    if (found.judged) {
        out.verdict =
            VerdictRates{part(found.pass), part(found.fail), part(found.heads - found.pass - found.fail)};
        out.risk = Risk{part(found.consumer), part(found.producer_fail + found.producer_undecided),
                        part(found.producer_fail), part(found.producer_undecided)};
    }
    take_figures(out.characteristics, found);
}

std::optional<int> change_at(const Known& known, const std::vector<double>& by_head) {
    if (known.change_every && *known.change_every < known.heads) return *known.change_every + 1;
    for (std::size_t h = 0; h < by_head.size(); ++h)
        if (by_head[h] < by_head.front() - worn_out) return static_cast<int>(h) + 1;
    return std::nullopt;
}

// What follows a hand: within 0.05 %, without verdicts.
Effort for_a_drag() {
    Effort out;
    constexpr double close = 5e-4;
    out.points = 64;
    out.most_points = 512;
    out.enough = close;
    out.verdict_points = 0;
    out.fineness = rough_fineness;
    return out;
}

void rates(Forecast& out, const job::Job& job, const Prepared& as, const MadeBatch& made, const Asked& asked,
           const Manner& manner, Tables& tables) {
    const Collected& collected = as.collected;
    const Rates found = integrated(made.batch, manner.drag ? for_a_drag() : Effort{}, &tables);
    out.pass_rate = found.good;
    out.pass_error = found.error;
    out.by_head = found.by_head;
    if (found.judged) {
        out.verdict = VerdictRates{found.pass, found.fail, std::max(0.0, 1 - found.pass - found.fail)};
        out.risk = Risk{found.consumer, found.producer_fail + found.producer_undecided, found.producer_fail,
                        found.producer_undecided};
    }
    out.change_at_head = change_at(collected.known, out.by_head);
    if (asked.limits) {
        Effort rough;
        rough.points = rough.most_points = 32;
        rough.fineness = rough_fineness;
        rough.verdict_points = 0;
        const auto rate = [&](const Known& known) {
            if (manner.check) manner.check();
            return integrated(batch_of(job, as.frame, known).batch, rough, &tables).good;
        };
        const double base = rate(collected.known);
        const Interval limits = limits_of(collected.known, collected.inputs, base, rate);
        // Both worked out roughly: what counts is how far they lie from the rate on the same points.
        out.pass_low = std::clamp(found.good + limits.low - base - found.error, 0.0, found.good);
        out.pass_high = std::clamp(found.good + limits.high - base + found.error, found.good, 1.0);
    }
}

}  // namespace

Forecast forecast(const job::Job& job, const plan::Plan& plan, const Prepared& as, Tables& tables,
                  const Asked& asked, const Manner& manner) {
    const auto begun = std::chrono::steady_clock::now();
    Forecast out;
    const Collected& collected = as.collected;
    const MadeBatch made = batch_of(job, as.frame, collected.known);
    out.heads = collected.known.heads;
    out.inputs = collected.inputs;
    out.warnings = collected.notices.warnings;
    out.assumptions = collected.notices.assumptions;
    const auto& of_frame = as.frame.notices.warnings;
    out.warnings.insert(out.warnings.end(), of_frame.begin(), of_frame.end());
    for (std::size_t i = 0; i < made.batch.seats.size(); ++i)
        if (made.batch.seats[i].touched) out.touched.push_back(made.batch.seats[i].valve);
    out.assumptions.emplace_back(sentence<"independent">());
    if (made.batch.seats.empty()) {
        warn(out, "no-seats", sentence<"no-seats">());
        return out;
    }
    say_touches(out, collected.known, as.most_touches);
    say_limits(out, job, made.batch);
    say_unjudged(out, made.batch);
    if (anything_to_judge(made.batch)) {
        rates(out, job, as, made, asked, manner, tables);
        if (asked.changes) {
            Effort common;
            common.points = common.most_points = 64;
            common.fineness = rough_fineness;
            common.verdict_points = 0;
            out.changes = changes_of({job, plan, as, made, common, tables, manner.check});
        }
    } else {
        warn(out, "nothing-to-judge", sentence<"nothing-to-judge">());
    }
    out.causes = causes_of(made, as.frame);
    out.characteristics = characteristics_of(made);
    if (asked.draws) drawn(out, made, asked);
    out.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
    return out;
}

Forecast forecast(const job::Job& job, const plan::Plan& plan, const prove::Proof& proof,
                  const Asked& asked) {
    const auto begun = std::chrono::steady_clock::now();
    Prepared as = prepared(job, plan, proof);
    if (asked.heads) {
        Tried tried;
        tried.heads = asked.heads;
        as = with(job, plan, as, tried);
    }
    Tables tables;
    Forecast out = forecast(job, plan, as, tables, asked);
    out.seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begun).count();
    return out;
}

}  // namespace seatwright::forecast
