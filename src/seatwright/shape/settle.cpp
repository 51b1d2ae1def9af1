#include "seatwright/shape/settle.hpp"

#include <algorithm>

#include "seatwright/base/allow_words.hpp"
#include "seatwright/job/allowance.hpp"
#include "seatwright/shape/finish.hpp"
#include "seatwright/shape/window.hpp"
#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {

namespace {

// mm. A limit is not broken by the rounding of a sum of decimals.
constexpr double rounding = 1e-6;

class Settler {
  public:
    Settler(const job::Job& job, const HeadBefore& before, std::vector<Seat>& seats)
        : job_(job), before_(before), seats_(seats) {}

    Notices run(const DepthOutcome& outcome, const DepthOutcome& alone) {
        for (Seat& seat : seats_) {
            if (seat.section.points.empty() || seat.decision == Decision::not_allowed) continue;
            const job::Valve& valve = job_.head.valves[seat.valve];
            if (!before_.lacking[seat.valve].empty())
                not_measured(seat);
            else if (const auto finish = finish_wanted(job_, valve))
                to_height(seat, *finish);
        }
        by_plan(before_.problem.seats, outcome);
        by_plan(before_.alone, alone);
        return std::move(notices_);
    }

  private:
    const job::Valve& valve_of(const Seat& seat) const { return job_.head.valves[seat.valve]; }
    const std::string& id(const Seat& seat) const { return valve_of(seat).id; }
    void warn(const char* code, const Seat& seat, Sentence text, Severity severity) {
        notices_.warnings.push_back({"shape", code, id(seat), std::move(text), severity});
    }

    void not_measured(Seat& seat) {
        seat.decision = Decision::not_measured;
        const Sentence& lacking = before_.lacking[seat.valve];
        hold_back(notices_, id(seat), HeldCode::not_measured,
                  sentence<"not-measured">("valve"_is = id(seat), "lacking"_is = lacking), lacking);
    }

    void to_height(Seat& seat, const job::Finish& finish) {
        const job::Valve& valve = valve_of(seat);
        const Before& read = before_.valves[seat.valve];
        const FinishAt at = finish_at(job_, valve, finish, read, seat.height);
        if (!at.recession) {
            seat.decision = Decision::not_measured;
            return hold_back(notices_, valve.id, HeldCode::missing,
                             sentence<"height-needs">("valve"_is = valve.id, "missing"_is = Key{at.missing}),
                             the_key(at.missing));
        }
        const double f = *at.recession + before_.deeper_finish[seat.valve];
        seat.finished_recession = f;
        if (const auto recession = seat.height.absolute()) seat.depth = f - *recession;
        const Window window = finish_window(job_, valve, seat.section, read, seat.height);
        if (f > window.most + rounding) return beyond(seat, f - window.most, window.most_by);
        if (f < window.least - rounding) return above(seat, window.least - f, window.least_by);
        if (seat.depth && *seat.depth <= least_cut) return below_finish(seat, window);
        if (seat.depth && seat.cleanup && *seat.depth < *seat.cleanup - rounding)
            warn("old-surface-may-stay", seat,
                 sentence<"height-leaves-old">("valve"_is = valve.id, "depth"_is = as_length(*seat.depth),
                                               "cleanup"_is = as_length(*seat.cleanup)),
                 Severity::note);
    }

    void beyond(const Seat& seat, double by, const std::string& what) {
        hold_back(notices_, id(seat), HeldCode::too_deep,
                  sentence<"past-limit">("valve"_is = id(seat), "by"_is = as_length(by), "limit"_is = what),
                  sentence<"past-limit-frees">());
    }

    void above(const Seat& seat, double by, const std::string& what) {
        hold_back(
            notices_, id(seat), HeldCode::not_allowed,
            sentence<"short-of-window">("valve"_is = id(seat), "by"_is = as_length(by), "window"_is = what),
            sentence<"short-of-window-frees">());
    }

    void below_finish(Seat& seat, const Window& window) {
        const Sentence high = *seat.depth < -least_cut
                                  ? sentence<"below-finished">("below"_is = as_length(-*seat.depth))
                                  : sentence<"at-finished">();
        if (const auto* allowance = job::allowance_of(job_, "below finish " + id(seat)))
            return warn("below-finish-allowed", seat,
                        sentence<"below-finish-allowed">("valve"_is = id(seat), "high"_is = high,
                                                         "by"_is = allowance->by, "why"_is = allowance->why),
                        Severity::note);
        seat.decision = Decision::below_finish;
        Sentence frees = sentence<"an-insert">();
        if (seat.cleanup) {
            const double own = *seat.height.recession + *seat.cleanup;
            if (own <= window.most + rounding)
                frees = sentence<"own-depth">("depth"_is = as_length(*seat.cleanup),
                                              "recession"_is = as_length(own));
        }
        const std::string let_pass = "below finish " + id(seat);
        hold_back(notices_, id(seat), HeldCode::below_finish,
                  sentence<"below-finish">("valve"_is = id(seat), "high"_is = high),
                  sentence<"below-finish-frees">("way"_is = frees, "allow"_is = allow_words(let_pass)));
        notices_.held_back.back().allow = let_pass;
    }

    void by_plan(const std::vector<DepthSeat>& planned, const DepthOutcome& outcome) {
        for (std::size_t i = 0; i < planned.size(); ++i) {
            Seat& seat = seats_[planned[i].valve];
            seat.depth = outcome.depth[i];
            if (outcome.for_insert[i]) {
                seat.decision = Decision::insert;
                // The depth plan has said why; this keeps it out of the programs.
                notices_.held_back.push_back({{},
                                              {},
                                              id(seat),
                                              HeldCode::too_deep,
                                              sentence<"beyond-cleanup">("valve"_is = id(seat)),
                                              sentence<"beyond-cleanup-frees">()});
            } else if (planned[i].by_hand && seat.depth) {
                by_hand(seat);
            } else if (seat.cleanup && planned[i].low > std::max(0.0, *seat.cleanup) + rounding) {
                warn("window", seat,
                     sentence<"window-asks">("valve"_is = id(seat), "window"_is = planned[i].needed_by,
                                             "asks"_is = as_length(planned[i].low),
                                             "cleanup"_is = as_length(*seat.cleanup)),
                     Severity::note);
            }
        }
    }

    void by_hand(const Seat& seat) {
        const Window window =
            depth_window(job_, valve_of(seat), seat.section, before_.valves[seat.valve], seat.height);
        const double depth = *seat.depth;
        if (depth > window.most + rounding)
            hold_back(
                notices_, id(seat), HeldCode::too_deep,
                sentence<"by-hand-beyond">("valve"_is = id(seat), "depth"_is = as_length(depth),
                                           "limit"_is = as_length(window.most), "by"_is = window.most_by),
                sentence<"by-hand-beyond-frees">());
        else if (depth < window.least - rounding)
            hold_back(
                notices_, id(seat), HeldCode::not_allowed,
                sentence<"by-hand-short">("valve"_is = id(seat), "depth"_is = as_length(depth),
                                          "window"_is = window.least_by, "asks"_is = as_length(window.least)),
                sentence<"by-hand-short-frees">());
        else if (seat.cleanup && depth < *seat.cleanup - rounding)
            warn("old-surface-may-stay", seat,
                 sentence<"by-hand-leaves-old">("valve"_is = id(seat), "depth"_is = as_length(depth),
                                                "cleanup"_is = as_length(*seat.cleanup)),
                 Severity::note);
    }

    const job::Job& job_;
    const HeadBefore& before_;
    std::vector<Seat>& seats_;
    Notices notices_;
};

}  // namespace

void hold_back(Notices& notices, const std::string& valve, HeldCode code, Sentence reason, Sentence frees) {
    notices.warnings.push_back({"shape", std::string(word_of(code)), valve,
                                sentence<"held">("reason"_is = reason, "frees"_is = frees),
                                Severity::blocking});
    notices.held_back.push_back({{}, {}, valve, code, std::move(reason), std::move(frees)});
}

Notices settle_seats(const job::Job& job, const HeadBefore& before, const DepthOutcome& outcome,
                     const DepthOutcome& alone, std::vector<Seat>& seats) {
    return Settler(job, before, seats).run(outcome, alone);
}

void sum_up(const job::Job& job, const HeadBefore& before, const std::vector<Seat>& seats, DepthPlan& plan) {
    const auto to_height = [&](const Seat& s) {
        return s.finished_recession && finish_wanted(job, job.head.valves[s.valve]);
    };
    if (std::none_of(seats.begin(), seats.end(), to_height)) return;
    DepthProblem cut;
    cut.area = before.problem.area;
    cut.chamber = before.chamber;
    cut.cylinder_name = before.cylinder_name;
    std::vector<double> depth;
    double total = 0;
    bool known = true;
    for (const Seat& s : seats) {
        if (s.decision != Decision::cut || !s.stop_s) continue;
        const job::Valve& valve = job.head.valves[s.valve];
        known = known && s.depth;
        total += s.depth.value_or(0);
        // Heights as they end, so that no depth is needed for their spread.
        DepthSeat seat;
        seat.kind = valve.kind;
        if (s.stem_height_after) seat.stem = *s.stem_height_after - s.depth.value_or(0);
        const auto at = std::find(cut.cylinder_name.begin(), cut.cylinder_name.end(), valve.cylinder);
        if (at != cut.cylinder_name.end())
            seat.cylinder = static_cast<std::size_t>(at - cut.cylinder_name.begin());
        cut.seats.push_back(std::move(seat));
        depth.push_back(s.depth.value_or(0));
    }
    plan.total = known ? std::optional(total) : std::nullopt;
    plan.total_unrounded.reset();
    plan.stem_spread = stem_spread_after(cut, depth);
    plan.chamber_spread = known ? chamber_spread_after(cut, depth) : std::nullopt;
}

void set_stop(Seat& seat) {
    if (seat.finished_recession) {
        seat.stop_s = -*seat.finished_recession;
        return;
    }
    if (!seat.depth || !seat.height.recession) return;
    seat.stop_s = -*seat.height.recession - *seat.depth;
    if (seat.height.absolute()) seat.finished_recession = -*seat.stop_s;
}

}  // namespace seatwright::shape
