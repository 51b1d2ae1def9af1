#include "seatwright/shape/depth_plan.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

#include "seatwright/job/kind_word.hpp"
#include "seatwright/shape/depth_lp.hpp"
#include "seatwright/shape/depth_steps.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {

namespace {

// mm. Sums of decimals such as 0.28 + 0.02 may pass their limit by rounding alone.
constexpr double rounding = 1e-9;
// Part of the least chamber spread added when a plan is made at that very border.
constexpr double border = 1e-9;

// What a sentence's last digit is worth, so that the amount it names does: mm, mm3.
constexpr double last_digit_mm = 0.001, last_digit_inch = 0.0001 * mm_per_inch, last_digit_volume = 10;

double rounded_up(double value, double digit) {
    constexpr double noise = 1e-6;  // of a digit
    return digit * std::ceil(value / digit - noise);
}

// The least multiple of `digit` from `least` on that `does`, which is not for less than some amount and is
// for more; sought up to `most`.
double least_that_does(double least, double most, double digit, const std::function<bool(double)>& does) {
    double good = rounded_up(most, digit), bad = rounded_up(least, digit);
    if (does(bad)) return bad;
    while (good - bad > 1.5 * digit) {
        const double half_way = bad + digit * std::floor((good - bad) / (2 * digit) + 0.5);
        (does(half_way) ? good : bad) = half_way;
    }
    return good;
}

class Planner {
  public:
    Planner(const DepthProblem& problem, LengthUnit unit) : p_(problem), unit_(unit) {
        out_.depth.resize(problem.seats.size());
        out_.for_insert.resize(problem.seats.size(), false);
    }

    DepthOutcome run() {
        for (std::size_t i = 0; i < p_.seats.size(); ++i)
            if (p_.seats[i].low > p_.seats[i].high + rounding) beyond_its_limit(i);
        if (p_.holds_stems())
            for (const auto kind : job::both_kinds) settle_stems(kind);
        DepthProblem rest = what_is_left();
        settle_chambers(rest);
        plan(rest);
        report();
        return std::move(out_);
    }

  private:
    double digit() const { return unit_ == LengthUnit::inch ? last_digit_inch : last_digit_mm; }

    void add(Conflict conflict, const char* code, const std::string& valve = {}) {
        out_.plan.feasible = false;
        out_.plan.conflict.push_back(conflict.text);
        out_.warnings.push_back({"shape", code, valve.empty() ? std::nullopt : std::optional(valve),
                                 conflict.text, Severity::blocking});
        out_.plan.conflicts.push_back(std::move(conflict));
    }

    void beyond_its_limit(std::size_t i) {
        const DepthSeat& s = p_.seats[i];
        Conflict c;
        c.members = {{Conflict::Limit::cleanup, s.valve, std::nullopt},
                     {Conflict::Limit::most_depth, s.valve, std::nullopt}};
        c.relaxation = s.low - s.high;
        c.insert_for = s.valve;
        const double in_steps = p_.step > 0 ? rounded_up(s.low, p_.step) : s.low;
        c.text = s.high < 0 ? sentence<"already-past">("seat"_is = s.name, "past"_is = as_length(-s.high),
                                                       "limit"_is = s.limited_by)
                            : sentence<"past-its-limit">(
                                  "seat"_is = s.name, "need"_is = s.needed_by, "low"_is = as_length(s.low),
                                  "limit"_is = s.limited_by, "high"_is = as_length(s.high),
                                  "more"_is = as_length_up(rounded_up(in_steps - s.high, digit())));
        out_.for_insert[i] = true;
        add(std::move(c), "depth-limit", s.name);
    }

    // The highest stem any seat of the kind must reach against the lowest one may not pass: without chambers
    // that pair is the whole of feasibility, since every window between the two serves all.
    struct Pair {
        std::optional<std::size_t> deep, shallow;
        double gap = -no_limit;  // by how much the spread is overdrawn
    };
    Pair worst_pair(job::Kind kind, std::optional<std::size_t> without = std::nullopt) const {
        Pair pair;
        double highest = -no_limit, lowest = no_limit;
        for (std::size_t i = 0; i < p_.seats.size(); ++i) {
            const DepthSeat& s = p_.seats[i];
            if (out_.for_insert[i] || i == without || s.kind != kind || !s.stem) continue;
            if (*s.stem + s.low > highest) highest = *s.stem + s.low, pair.deep = i;
            if (*s.stem + s.high < lowest) lowest = *s.stem + s.high, pair.shallow = i;
        }
        if (pair.deep && lowest < no_limit) pair.gap = highest - lowest - *p_.stem_spread;
        return pair;
    }

    // Of the seats of that kind alone that are still planned.
    double stem_spread_that_does(job::Kind kind, double gap) const {
        std::vector<bool> gone = out_.for_insert;
        for (std::size_t i = 0; i < p_.seats.size(); ++i) gone[i] = gone[i] || p_.seats[i].kind != kind;
        DepthProblem kin = without(p_, gone);
        kin.chamber_spread.reset();
        kin = after_depths_by_hand(std::move(kin));
        const double least = *p_.stem_spread + gap;
        if (!(kin.step > 0)) return rounded_up(least, digit());
        // Two seats each a step from where they would stand otherwise.
        return least_that_does(least, least + 2 * kin.step, digit(), [&](double spread) {
            kin.stem_spread = spread;
            return solve_depths_in_steps(kin).has_value();
        });
    }

    void settle_stems(job::Kind kind) {
        for (std::size_t round = 0; round < p_.seats.size(); ++round) {
            const Pair pair = worst_pair(kind);
            if (pair.gap <= rounding) return;
            const bool shallow_goes =
                worst_pair(kind, *pair.shallow).gap < worst_pair(kind, *pair.deep).gap - rounding;
            const std::size_t out = shallow_goes ? *pair.shallow : *pair.deep;
            const DepthSeat &deep = p_.seats[*pair.deep], &shallow = p_.seats[*pair.shallow];
            Conflict c;
            for (const auto i : {*pair.deep, *pair.shallow})
                c.members.push_back({Conflict::Limit::stem_spread, p_.seats[i].valve, std::nullopt});
            c.members.push_back({Conflict::Limit::cleanup, deep.valve, std::nullopt});
            c.members.push_back({Conflict::Limit::most_depth, shallow.valve, std::nullopt});
            c.relaxation = pair.gap;
            c.insert_for = p_.seats[out].valve;
            c.text = sentence<"stem-heights">(
                "kind"_is = job::kind_said(kind), "deep"_is = deep.name,
                "deep_at"_is = as_length(*deep.stem + deep.low), "need"_is = deep.needed_by,
                "deep_low"_is = as_length(deep.low), "shallow"_is = shallow.name,
                "shallow_at"_is = as_length(*shallow.stem + shallow.high), "limit"_is = shallow.limited_by,
                "shallow_high"_is = as_length(shallow.high), "spread"_is = as_length(*p_.stem_spread),
                "would_do"_is = as_length_up(stem_spread_that_does(kind, pair.gap)),
                "insert"_is = p_.seats[out].name);
            out_.for_insert[out] = true;
            add(std::move(c), "stem-spread", p_.seats[out].name);
        }
    }

    // The seats still planned.
    DepthProblem what_is_left() {
        for (std::size_t i = 0; i < p_.seats.size(); ++i)
            if (!out_.for_insert[i]) place_.push_back(i);
        DepthProblem rest = without(p_, out_.for_insert);
        // What rounding let past its limit above is planned at the limit.
        for (auto& seat : rest.seats) seat.low = std::min(seat.low, seat.high);
        return after_depths_by_hand(std::move(rest));
    }

    void solver_failed(const SolverError& error) {
        out_.warnings.push_back(
            {"shape", "depth-solver", std::nullopt,
             sentence<"no-answer">("method"_is = error.method, "iterations"_is = error.iterations,
                                   "error"_is = error.text),
             Severity::blocking});
    }

    void settle_chambers(DepthProblem& rest) {
        if (!rest.holds_chambers()) return;
        auto first = solve_depths(rest);
        if (!first) return solver_failed(first.error());
        if (*first) {
            lp_ = std::move(*first);
            return;
        }
        const auto quarrel = quarrel_of(rest);
        const auto least = least_chamber_spread(rest);
        if (!quarrel) return solver_failed(quarrel.error());
        if (!least) return solver_failed(least.error());
        if (!*least) return;  // a quarrel without the chambers: settled above, so not reached but by rounding
        const double would_do = chamber_spread_that_does(rest, **least);
        add(chamber_conflict(rest, *quarrel, **least, would_do), "chamber-spread");
        rest.chamber_spread = would_do;
    }

    // In whole steps rounding may take every valve of a cylinder one step from where the linear program had
    // it.
    static double chamber_spread_that_does(DepthProblem rest, double least) {
        if (!(rest.step > 0)) return rounded_up(least * (1 + border) + rounding, last_digit_volume);
        std::vector<double> bite(rest.chamber.size(), 0.0);
        for (const auto& s : rest.seats)
            if (s.cylinder) bite[*s.cylinder] += rest.step * rest.area[s.kind];
        const double room = 2 * *std::max_element(bite.begin(), bite.end());
        return least_that_does(least, least + room, last_digit_volume, [&](double spread) {
            rest.chamber_spread = spread;
            return solve_depths_in_steps(rest).has_value();
        });
    }

    Conflict chamber_conflict(const DepthProblem& rest, const Quarrel& quarrel, double least,
                              double would_do) const {
        Conflict c;
        std::vector<std::string> cylinders;
        std::vector<Sentence> limits;
        for (const auto i : quarrel.chamber) {
            c.members.push_back({Conflict::Limit::chamber_spread, std::nullopt, rest.cylinder_name[i]});
            cylinders.push_back(std::to_string(rest.cylinder_name[i]));
        }
        for (const auto i : quarrel.cleanup) {
            const auto& s = rest.seats[i];
            c.members.push_back({Conflict::Limit::cleanup, s.valve, std::nullopt});
            if (s.low > 0)
                limits.push_back(sentence<"cleanup-of">("seat"_is = s.name, "cleanup"_is = as_length(s.low)));
        }
        for (const auto i : quarrel.most_depth) {
            const auto& s = rest.seats[i];
            c.members.push_back({Conflict::Limit::most_depth, s.valve, std::nullopt});
            limits.push_back(sentence<"limit-of">("limit"_is = s.limited_by, "seat"_is = s.name,
                                                  "high"_is = as_length(s.high)));
        }
        std::vector<std::string> stems;
        for (const auto i : quarrel.stem) {
            c.members.push_back({Conflict::Limit::stem_spread, rest.seats[i].valve, std::nullopt});
            stems.push_back(rest.seats[i].name);
        }
        if (!stems.empty())
            limits.push_back(sentence<"spread-of">("seats"_is = list_of(stems, Join::with_and)));
        c.relaxation = least - *rest.chamber_spread;
        Sentence keeping;
        if (!limits.empty())
            keeping = sentence<"while-keeping">("limits"_is = list_of(limits, Join::with_and));
        c.text = sentence<"chambers-apart">("cylinders"_is = list_of(cylinders, Join::with_and),
                                            "spread"_is = as_volume(*rest.chamber_spread),
                                            "keeping"_is = keeping, "would_do"_is = as_volume(would_do));
        return c;
    }

    void plan(const DepthProblem& rest) {
        if (!lp_) solve_program(rest);
        if (lp_) out_.plan.total_unrounded = lp_->total + by_hand();
        if (rest.step > 0) {
            const auto steps = solve_depths_in_steps(rest);
            if (steps) {
                if (!steps->proven)
                    out_.warnings.push_back({"shape", "depth-not-least", std::nullopt,
                                             sentence<"depth-not-least">(), Severity::note});
                return take(steps->depth);
            }
            no_whole_steps(rest, steps.error());
        }
        if (lp_) take(lp_->depth);
    }

    void solve_program(const DepthProblem& rest) {
        auto answer = solve_depths(rest);
        if (answer)
            lp_ = std::move(*answer);
        else
            solver_failed(answer.error());
    }

    void no_whole_steps(const DepthProblem& rest, NoSteps why) {
        Conflict c;
        c.text = sentence<"no-whole-steps">(
            "step"_is = as_length(rest.step),
            "why"_is = why == NoSteps::none_exists ? sentence<"none-keeps">() : sentence<"none-found">());
        add(std::move(c), "depth-step");
    }

    double by_hand() const {
        double sum = 0;
        for (const auto i : place_)
            if (p_.seats[i].by_hand) sum += p_.seats[i].low;
        return sum;
    }

    void take(const std::vector<double>& depth) {
        for (std::size_t j = 0; j < depth.size(); ++j) {
            const DepthSeat& seat = p_.seats[place_[j]];
            out_.depth[place_[j]] = seat.by_hand ? seat.low : depth[j];
        }
    }

    void report() {
        const DepthProblem rest = without(p_, out_.for_insert);
        std::vector<double> depth;
        for (const auto i : place_) {
            if (!out_.depth[i]) return;
            depth.push_back(*out_.depth[i]);
        }
        double total = 0;
        for (const double d : depth) total += d;
        out_.plan.total = total;
        out_.plan.stem_spread = stem_spread_after(rest, depth);
        out_.plan.chamber_spread = chamber_spread_after(rest, depth);
    }

    const DepthProblem& p_;
    LengthUnit unit_;
    std::vector<std::size_t> place_;  // of each seat of the rest, its index in the whole
    std::optional<LpPlan> lp_;        // of the rest, once it is known to be feasible
    DepthOutcome out_;
};

}  // namespace

DepthOutcome plan_depths(const DepthProblem& problem, LengthUnit unit) {
    return Planner(problem, unit).run();
}

}  // namespace seatwright::shape
