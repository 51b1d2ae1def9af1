#include "seatwright/shape/settle.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/base/allow_words.hpp"
#include "seatwright/job/allowance.hpp"
#include "seatwright/shape/finish.hpp"
#include "seatwright/shape/window.hpp"
#include "seatwright/shape/wording.hpp"

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
    std::string say(double mm) const { return length_words(mm, job_.units); }
    const job::Valve& valve_of(const Seat& seat) const { return job_.head.valves[seat.valve]; }
    const std::string& id(const Seat& seat) const { return valve_of(seat).id; }
    void warn(const char* code, const Seat& seat, std::string text, Severity severity) {
        notices_.warnings.push_back({"shape", code, id(seat), std::move(text), severity});
    }

    void not_measured(Seat& seat) {
        seat.decision = Decision::not_measured;
        const std::string& lacking = before_.lacking[seat.valve];
        hold_back(notices_, id(seat), HeldCode::not_measured,
                  fmt::format("{} is not measured: its plan lacks {}", id(seat), lacking), lacking);
    }

    void to_height(Seat& seat, const job::Finish& finish) {
        const job::Valve& valve = valve_of(seat);
        const Before& read = before_.valves[seat.valve];
        const FinishAt at = finish_at(job_, valve, finish, read, seat.height);
        if (!at.recession) {
            seat.decision = Decision::not_measured;
            return hold_back(notices_, valve.id, HeldCode::missing,
                             fmt::format("{}: its finished height needs {}", valve.id, at.missing),
                             at.missing);
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
                 fmt::format("{}: {} deep to its finished height, {} would clean it up: old surface may be "
                             "left, look before the valve goes in",
                             valve.id, say(*seat.depth), say(*seat.cleanup)),
                 Severity::note);
    }

    void beyond(const Seat& seat, double by, const std::string& what) {
        hold_back(notices_, id(seat), HeldCode::too_deep,
                  fmt::format("{}: its finished height is {} past its limit ({})", id(seat), say(by), what),
                  "another finished height, or a new insert");
    }

    void above(const Seat& seat, double by, const std::string& what) {
        hold_back(notices_, id(seat), HeldCode::not_allowed,
                  fmt::format("{}: its finished height is {} short of its window ({}): the valve would stand "
                              "proud of it",
                              id(seat), say(by), what),
                  "a finished height within the window");
    }

    void below_finish(Seat& seat, const Window& window) {
        const std::string high = *seat.depth < -least_cut
                                     ? fmt::format("{} below its finished height", say(-*seat.depth))
                                     : std::string("at its finished height");
        if (const auto* allowance = job::allowance_of(job_, "below finish " + id(seat)))
            return warn("below-finish-allowed", seat,
                        fmt::format("{}: the old seat is already {}; {} lets it pass: {}", id(seat), high,
                                    allowance->by, allowance->why),
                        Severity::note);
        seat.decision = Decision::below_finish;
        std::string frees = "an insert";
        if (seat.cleanup) {
            const double own = *seat.height.recession + *seat.cleanup;
            if (own <= window.most + rounding)
                frees =
                    fmt::format("its own depth, {} (recession {} after it), as [[depth.seat]], or an insert",
                                say(*seat.cleanup), say(own));
        }
        hold_back(notices_, id(seat), HeldCode::below_finish,
                  fmt::format("{}: the old seat is already {}: the cutter would not touch", id(seat), high),
                  frees + ", or " + allow_words("below finish " + id(seat)));
    }

    void by_plan(const std::vector<DepthSeat>& planned, const DepthOutcome& outcome) {
        for (std::size_t i = 0; i < planned.size(); ++i) {
            Seat& seat = seats_[planned[i].valve];
            seat.depth = outcome.depth[i];
            if (outcome.for_insert[i]) {
                seat.decision = Decision::insert;
                // The depth plan has said why; this keeps it out of the programs.
                notices_.held_back.push_back(
                    {{},
                     {},
                     id(seat),
                     HeldCode::too_deep,
                     fmt::format("{} cannot be cleaned up within its limits", id(seat)),
                     "a new insert, or another limit"});
            } else if (planned[i].by_hand && seat.depth) {
                by_hand(seat);
            } else if (seat.cleanup && planned[i].low > std::max(0.0, *seat.cleanup) + rounding) {
                warn("window", seat,
                     fmt::format("{}: its window ({}) asks for {} where {} would clean it up", id(seat),
                                 planned[i].needed_by, say(planned[i].low), say(*seat.cleanup)),
                     Severity::note);
            }
        }
    }

    void by_hand(const Seat& seat) {
        const Window window =
            depth_window(job_, valve_of(seat), seat.section, before_.valves[seat.valve], seat.height);
        const double depth = *seat.depth;
        if (depth > window.most + rounding)
            hold_back(notices_, id(seat), HeldCode::too_deep,
                      fmt::format("{}: the depth given by hand, {}, is beyond its limit of {} ({})", id(seat),
                                  say(depth), say(window.most), window.most_by),
                      "a lesser depth, or a new insert");
        else if (depth < window.least - rounding)
            hold_back(notices_, id(seat), HeldCode::not_allowed,
                      fmt::format("{}: the depth given by hand, {}, does not reach its window ({}), which "
                                  "asks for {}",
                                  id(seat), say(depth), window.least_by, say(window.least)),
                      "a greater depth");
        else if (seat.cleanup && depth < *seat.cleanup - rounding)
            warn(
                "old-surface-may-stay", seat,
                fmt::format("{}: {} deep by hand, {} would clean it up: old surface may be left, look before "
                            "the valve goes in",
                            id(seat), say(depth), say(*seat.cleanup)),
                Severity::note);
    }

    const job::Job& job_;
    const HeadBefore& before_;
    std::vector<Seat>& seats_;
    Notices notices_;
};

}  // namespace

void hold_back(Notices& notices, const std::string& valve, HeldCode code, std::string reason,
               std::string frees) {
    notices.warnings.push_back({"shape", std::string(word_of(code)), valve,
                                fmt::format("{}; what frees it: {}", reason, frees), Severity::blocking});
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
