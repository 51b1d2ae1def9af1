#include "seatwright/shape/plan_anew.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/shape/asked.hpp"
#include "seatwright/shape/finish.hpp"
#include "seatwright/shape/first_read.hpp"
#include "seatwright/shape/section.hpp"
#include "seatwright/shape/settle.hpp"
#include "seatwright/shape/window.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {

namespace {

// mm: depths that differ by less are alike.
constexpr double trims_alike = 1e-6;

// How much deeper than planned; none where nothing is read, the gauge cannot tell it, or Z0 is wrong
// altogether.
std::optional<double> excess_of(const job::Job& job, const std::string& head, const job::Valve& valve,
                                const SeatAsPlanned& seat, const job::FirstSeat& reading) {
    if (reading.depth && !seat.depth_known) return std::nullopt;
    const double less = short_by(job.cut, seat.depth);
    const auto found = measured(reading, first_planned(job, head, valve, seat, less));
    if (!found || found->depth - seat.depth <= found->u) return std::nullopt;
    if (found->e > job.cut.trim_max + trims_alike && large_trim(job, valve.id) == LargeTrim::held_back)
        return std::nullopt;
    return found->depth - seat.depth;
}

class Ways {
  public:
    Ways(const job::Job& job, const DepthProblem& problem, const DepthOutcome& planned,
         const std::vector<DeeperFirst>& firsts, const std::vector<std::optional<double>>& old)
        : job_(job), problem_(problem), planned_(planned), firsts_(firsts), old_(old) {}

    // The depths as planned, but for what is cut.
    DepthOutcome shifted() const {
        DepthOutcome out = planned_;
        for (const DeeperFirst& first : firsts_) out.depth[first.seat] = first.depth;
        sum_up(out);
        return out;
    }

    // The same problem with what is cut where it is.
    DepthOutcome anew() const {
        DepthProblem around = problem_;
        for (const DeeperFirst& first : firsts_) {
            DepthSeat& seat = around.seats[first.seat];
            seat.low = seat.high = first.depth;
            seat.by_hand = true;
            seat.needed_by = seat.limited_by = "first cut";
        }
        return plan_depths(around, job_.units);
    }

    DepthWay way(const DepthOutcome& outcome) const {
        DepthWay out;
        out.total = outcome.plan.total;
        for (std::size_t i = 0; i < problem_.seats.size(); ++i) {
            if (!planned_.depth[i]) continue;
            DepthWay::OfSeat seat;
            seat.valve = problem_.seats[i].valve;
            seat.insert = !outcome.depth[i];
            seat.depth = outcome.depth[i];
            if (outcome.depth[i]) seat.deeper = *outcome.depth[i] - *planned_.depth[i];
            if (!old_.empty())
                seat.depth = seat.depth && old_[i] ? std::optional(*seat.depth - *old_[i]) : std::nullopt;
            if (!cut(i)) out.deeper += std::max(0.0, seat.deeper);
            out.seats.push_back(seat);
        }
        if (!old_.empty()) total_of_depths(out);
        out.breaks = breaks(outcome);
        return out;
    }

    // Limits and spreads that a plan does not keep, those of seats cut already among them.
    std::vector<Sentence> breaks(const DepthOutcome& outcome) const {
        std::vector<Sentence> out;
        for (const DeeperFirst& first : firsts_) {
            const DepthSeat& seat = problem_.seats[first.seat];
            if (first.depth > seat.high + trims_alike)
                out.push_back(sentence<"past-as-is">("seat"_is = seat.name,
                                                     "past"_is = as_length(first.depth - seat.high),
                                                     "limit"_is = seat.limited_by));
        }
        for (std::size_t i = 0; i < problem_.seats.size(); ++i)
            if (planned_.depth[i] && !outcome.depth[i])
                out.push_back(sentence<"would-need-insert">("seat"_is = problem_.seats[i].name));
        for (BrokenSpread& spread : broken_spreads(rest(outcome), depths(outcome)))
            out.push_back(std::move(spread.text));
        return out;
    }

    void sum_up(DepthOutcome& outcome) const {
        const DepthProblem left = rest(outcome);
        const std::vector<double> depth = depths(outcome);
        double total = 0;
        for (const double d : depth) total += d;
        outcome.plan.total = total;
        outcome.plan.total_unrounded.reset();
        outcome.plan.stem_spread = stem_spread_after(left, depth);
        outcome.plan.chamber_spread = chamber_spread_after(left, depth);
    }

    bool cut(std::size_t seat) const {
        return std::any_of(firsts_.begin(), firsts_.end(),
                           [&](const DeeperFirst& first) { return first.seat == seat; });
    }

  private:
    DepthProblem rest(const DepthOutcome& outcome) const {
        std::vector<bool> gone;
        for (const auto& depth : outcome.depth) gone.push_back(!depth);
        return without(problem_, gone);
    }
    static std::vector<double> depths(const DepthOutcome& outcome) {
        std::vector<double> out;
        for (const auto& depth : outcome.depth)
            if (depth) out.push_back(*depth);
        return out;
    }
    static void total_of_depths(DepthWay& way) {
        double total = 0;
        const bool known = std::all_of(way.seats.begin(), way.seats.end(), [&](const DepthWay::OfSeat& seat) {
            total += seat.depth.value_or(0);
            return seat.depth || seat.insert;
        });
        way.total = known ? std::optional(total) : std::nullopt;
    }

    const job::Job& job_;
    const DepthProblem& problem_;
    const DepthOutcome& planned_;
    const std::vector<DeeperFirst>& firsts_;
    const std::vector<std::optional<double>>& old_;
};

// What all of them say; open where one is silent or they differ.
job::AfterFirst chosen_of(const std::vector<DeeperFirst>& firsts) {
    const job::AfterFirst word = firsts.front().plan;
    const bool alike_all = std::all_of(firsts.begin(), firsts.end(),
                                       [&](const DeeperFirst& first) { return first.plan == word; });
    return alike_all ? word : job::AfterFirst::open;
}

Sentence cost_words(const DepthWay& way, const std::vector<std::size_t>& after) {
    std::size_t deeper = 0;
    for (const DepthWay::OfSeat& seat : way.seats)
        if (seat.deeper > trims_alike && std::find(after.begin(), after.end(), seat.valve) == after.end())
            ++deeper;
    const Sentence out =
        deeper == 0 ? sentence<"no-other-deeper">()
                    : sentence<"others-deeper">("others"_is = deeper, "deeper"_is = as_length(way.deeper));
    if (way.breaks.empty()) return sentence<"limits-kept">("cost"_is = out);
    return sentence<"cost-but">("cost"_is = out, "breaks"_is = list_of(way.breaks, Join::with_and));
}

}  // namespace

AfterFirstSeats after_first_seats(const job::Job& job, const DepthProblem& problem, DepthOutcome planned,
                                  const std::vector<DeeperFirst>& firsts,
                                  const std::vector<std::optional<double>>& old) {
    AfterFirstSeats out{std::move(planned), std::vector<double>(problem.seats.size(), 0.0), std::nullopt};
    if (firsts.empty()) return out;
    const DepthOutcome as_planned = out.outcome;
    const Ways ways(job, problem, as_planned, firsts, old);
    out.outcome = ways.shifted();
    PlanAnew anew;
    anew.shifted = ways.way(out.outcome);
    if (!anew.shifted.breaks.empty()) {
        DepthOutcome again = ways.anew();
        anew.anew = ways.way(again);
        for (const DeeperFirst& first : firsts) anew.after.push_back(problem.seats[first.seat].valve);
        anew.chosen = chosen_of(firsts);
        if (anew.chosen == job::AfterFirst::anew) out.outcome = std::move(again);
        out.anew = std::move(anew);
    }
    for (std::size_t i = 0; i < problem.seats.size(); ++i)
        if (out.outcome.depth[i] && as_planned.depth[i])
            out.since_first[i] = *out.outcome.depth[i] - *as_planned.depth[i];
    return out;
}

std::vector<DeeperFirst> deeper_firsts(const job::Job& job, const std::string& head, const HeadBefore& before,
                                       const DepthProblem& problem, const DepthOutcome& planned) {
    std::vector<DeeperFirst> out;
    for (std::size_t i = 0; i < problem.seats.size(); ++i) {
        const auto depth = planned.depth[i];
        const job::FirstSeat* reading = first_reading(job, head, problem.seats[i].name);
        if (!depth || reading == nullptr) continue;
        const std::size_t v = problem.seats[i].valve;
        const double stop = -before.height[v].recession.value_or(0) - *depth;
        if (const auto excess = excess_of(job, head, job.head.valves[v], {*depth, stop, true}, *reading))
            out.push_back({i, *depth + *excess, reading->plan});
    }
    return out;
}

HeightProblem height_problem(const job::Job& job, const std::string& head, const HeadBefore& before) {
    HeightProblem out;
    out.problem.stem_spread = job.depth.stem_spread;
    for (std::size_t v = 0; v < job.head.valves.size(); ++v) {
        const job::Valve& valve = job.head.valves[v];
        const auto& form = job.seat[valve.kind];
        if (!form || !job.valve[valve.kind] || !form->cut_allowed || !before.lacking[v].empty()) continue;
        const auto finish = finish_wanted(job, valve);
        const FinishAt at =
            finish ? finish_at(job, valve, *finish, before.valves[v], before.height[v]) : FinishAt{};
        if (!at.recession) continue;
        const auto old = before.height[v].absolute();
        if (old && *at.recession - *old <= least_cut) continue;
        const Window window = finish_window(job, valve, section_of(*job.valve[valve.kind], *form),
                                            before.valves[v], before.height[v]);
        DepthSeat seat;
        seat.valve = v;
        seat.name = valve.id;
        seat.kind = valve.kind;
        seat.low = *at.recession;
        seat.high = std::max(seat.low, window.most);
        seat.needed_by = "finished height";
        seat.limited_by = window.most_by;
        seat.stem = form->stem_height;
        if (const job::FirstSeat* reading = first_reading(job, head, valve.id)) {
            const SeatAsPlanned planned{old ? seat.low - *old : std::max(0.0, seat.low), -seat.low,
                                        old.has_value()};
            if (const auto excess = excess_of(job, head, valve, planned, *reading))
                out.firsts.push_back({out.problem.seats.size(), seat.low + *excess, reading->plan});
        }
        out.planned.depth.emplace_back(seat.low);
        out.planned.for_insert.push_back(false);
        out.old.push_back(old);
        out.problem.seats.push_back(std::move(seat));
    }
    return out;
}

Notices ask_which_plan(const job::Job& job, const PlanAnew& anew) {
    Notices out;
    const auto id = [&](std::size_t valve) { return job.head.valves[valve].id; };
    std::vector<std::string> names;
    std::vector<job::Kind> kinds;
    for (const std::size_t valve : anew.after) {
        names.push_back(id(valve));
        kinds.push_back(job.head.valves[valve].kind);
    }
    const Sentence reason = sentence<"two-ways">("seats"_is = list_of(names, Join::with_and),
                                                 "shifted"_is = cost_words(anew.shifted, anew.after),
                                                 "anew"_is = cost_words(anew.anew, anew.after));
    const Sentence frees = sentence<"two-ways-frees">("seats"_is = list_of(names, Join::with_and));
    for (std::size_t i = 0; i < anew.shifted.seats.size(); ++i) {
        const DepthWay::OfSeat &one = anew.shifted.seats[i], &other = anew.anew.seats[i];
        if (std::find(anew.after.begin(), anew.after.end(), one.valve) != anew.after.end()) continue;
        const bool same_kind =
            std::find(kinds.begin(), kinds.end(), job.head.valves[one.valve].kind) != kinds.end();
        const bool differs = one.insert != other.insert || std::abs(one.deeper - other.deeper) > trims_alike;
        if (same_kind || differs) hold_back(out, id(one.valve), HeldCode::missing, reason, frees);
    }
    return out;
}

}  // namespace seatwright::shape
