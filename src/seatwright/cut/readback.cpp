#include "seatwright/cut/readback.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/cut/machine_state.hpp"
#include "seatwright/cut/pilot_watch.hpp"
#include "seatwright/cut/program.hpp"
#include "seatwright/cut/readback_route.hpp"
#include "seatwright/cut/readback_words.hpp"
#include "seatwright/cut/seat_watch.hpp"

namespace seatwright::cut {

namespace {

// Feeds are written to 0.01 mm/min or 0.0001 in/min: half of that, mm/s, and as much again for rounding.
constexpr double feed_tolerance = 0.01 / 60;

class ReadBack {
  public:
    ReadBack(const job::Job& job, const Route& route, const Expected& expected)
        : job_(job),
          route_(route),
          mouths_(heights_over_mouth(job, route, expected)),
          state_(job, route),
          pilots_(job, route, expected),
          tolerance_(written_tolerance(job)) {}

    std::optional<ProgramFault> run(const std::vector<Step>& steps) {
        for (const Step& step : steps) {
            if (!fault_.empty()) break;
            line_ = step.line;
            take(step);
        }
        if (fault_.empty()) return std::nullopt;
        return ProgramFault{line_, fault_};
    }

  private:
    void fail(std::string text) {
        if (fault_.empty()) fault_ = std::move(text);
    }
    bool same(double a, double b) const { return std::abs(a - b) <= tolerance_; }
    bool at(const Position& p, const Vec2& place) const {
        return p.x && p.y && same(*p.x, place.x()) && same(*p.y, place.y());
    }
    const Stop* stop() const { return next_ < route_.stops.size() ? &route_.stops[next_] : nullptr; }
    // Height of the gauge plane: the Z word with the machine's sign.
    double height(double z) const { return job_.machine.z_sign * z; }
    bool clear(double h) const { return h >= route_.clear - tolerance_; }
    // Clear of everything: at the top, or at the clear height and known to be.
    bool out_of_the_way(const Position& p) const {
        return state_.standing() == Standing::top ||
               (state_.standing() == Standing::known && p.z && clear(height(*p.z)));
    }

    void take(const Step& step) {
        if (ended_) return fail("something follows the program's end");
        if (step.kind == StepKind::comment) return comment(step);
        if (!started_) {
            fail(fault_of_header(said_, job_, route_));
            if (step.kind != StepKind::spindle || step.modes.spindle != Spindle::off)
                fail("the spindle is not stopped (M5) before anything else");
        }
        started_ = true;
        switch (step.kind) {
            case StepKind::comment:
                break;
            case StepKind::control:
                control(step);
                break;
            case StepKind::stop:
                halt(step);
                break;
            case StepKind::tool_change:
                change(step);
                break;
            case StepKind::spindle:
                spindle(step);
                break;
            case StepKind::dwell:
                dwell(step);
                break;
            case StepKind::rapid:
                rapid(step);
                break;
            case StepKind::feed:
                feed(step);
                break;
            case StepKind::end:
                end(step);
                break;
        }
        said_.clear();
    }

    void comment(const Step& step) {
        fail(fault_of_comment(step.comment));
        said_ += step.comment + " ";
        if (const auto valve = valve_announced(step.comment); !valve.empty()) announced_ = valve;
    }

    void modes(const Modes& modes) {
        if (modes.plane != 17) fail("the XY plane (G17) is not in force");
        const int units = job_.program_unit() == LengthUnit::inch ? 20 : 21;
        if (modes.units != units) fail(fmt::format("the units (G{}) are not in force", units));
        if (modes.distance != 90) fail("absolute distances (G90) are not in force");
        if (modes.feed_mode != 94) fail("feed per minute (G94) is not in force");
        if (modes.offset != 54) fail("the work offset (G54) is not in force");
    }

    // Before anything moves in height on the program's own word.
    void length_offset(const Modes& modes) {
        const bool offsets = job_.machine.zero == job::ZeroKept::offsets;
        const int asked = offsets ? modes.tool : 0;
        if (offsets && modes.tool == 0) return fail("moves in Z before a cutter is put in");
        if (modes.length_offset == asked) return;
        fail(offsets ? fmt::format("moves in Z without the length of cutter {} (G43 H{})", asked, asked)
                     : std::string("moves in Z without saying that no length offset holds (G49)"));
    }

    // Words of the control. Heights at which the float may change are the seat's own affair.
    void control(const Step& step) {
        // Where it stands before; after the way to the top Z is not known.
        const bool known = state_.standing() == Standing::known && step.from.z;
        const double h = known ? height(*step.from.z) : route_.clear;
        switch (step.event) {
            case ControlEvent::top:
                if (state_.turning()) fail("goes to the top with the spindle turning");
                if (watch_ && !(known && clear(h))) fail("the way to the top begins below the clear height");
                watch_.reset();  // cut or not
                state_.at_top();
                break;
            case ControlEvent::float_free:
                return freed(h);
            case ControlEvent::float_lock:
                return locked(h);
            case ControlEvent::float_centre:
                return fail(state_.centre_float(!watch_ || watch_->tip_out(h)));
        }
    }
    void freed(double h) {
        if (watch_) fail(watch_->float_freed(h));
        fail(state_.free_float());
    }
    void locked(double h) {
        if (watch_) fail(watch_->float_locked(h));
        fail(state_.lock_float());
    }

    void halt(const Step& step) {
        const Asked asked = asked_by(said_, job_, route_);
        if (asked.of_float() && !asked.zero && !asked.puts && !asked.plants)
            return float_by_hand(asked, step);
        if (state_.turning()) fail("halts with the spindle turning");
        if (watch_ && !(step.to.z && watch_->tip_out(height(*step.to.z))))
            fail("halts with the tool in a seat and asks for nothing of the float");
        if (state_.standing() != Standing::anywhere && !out_of_the_way(step.to))
            fail("halts below the clear height");
        if (state_.standing() == Standing::anywhere && !job_.dialect.top.empty() && !state_.raised())
            fail("halts before the way to the top was gone");
        if (said_.empty()) fail("halts without saying what for");
        if (asked.zero) {
            fail(fault_of_trims(said_, job_, route_));
            fail(pilots_.zero_asked(asked));
        }
        // The halt for Z0 says the job's title too: only whole phrases count there.
        if (asked.put || asked.plants || (asked.puts && !asked.zero))
            fail(pilots_.asked_for(asked, {stop(), step.to, out_of_the_way(step.to), step.modes.tool}));
        else if (asked.look_at && !asked.zero)
            fail(pilots_.look(asked, said_, stop()));
        const bool above = has_word(said_, "above everything");
        if (job_.dialect.top.empty() && !halted_ && !above)
            fail("the first halt does not ask for the tool above everything");
        halted_ = true;
        state_.halted(asked.zero, above);
        measured_ = measuring_ || !job_.machine.measure_at;
    }

    void float_by_hand(const Asked& asked, const Step& step) {
        const auto& words = job_.machine.tool_float;
        if (!state_.float_commanded() || !words) return fail("halts for a float that nobody moves");
        if ((asked.free && words->free != "hand") || (asked.lock && words->lock != "hand") ||
            (asked.centre && words->centre != "hand"))
            return fail("halts for the float where the control has a word for it");
        if (state_.standing() != Standing::known || !step.to.z)
            return fail("halts for the float at a height not known");
        const double h = height(*step.to.z);
        if (asked.free) freed(h);
        if (asked.centre) fail(state_.centre_float(!watch_ || watch_->tip_out(h)));
        if (asked.lock) locked(h);
    }

    void change(const Step& step) {
        if (watch_) fail("the cutter is changed over a seat");
        if (job_.machine.zero != job::ZeroKept::offsets)
            fail("a cutter is put in, though each file has its own");
        if (!stop() || step.modes.tool != stop()->tool.number)
            fail(fmt::format("cutter {} is not the one the next seat needs", step.modes.tool));
        fail(state_.changed(step.modes.tool));
    }

    void spindle(const Step& step) {
        const bool off = step.modes.spindle == Spindle::off;
        if (!off) {
            if (!watch_ || !step.to.z) return fail("the spindle is started where no seat is to be cut");
            fail(watch_->spindle_on(state_, height(*step.to.z), step.modes.rpm));
        }
        fail(state_.spindle(step.modes));
    }

    void dwell(const Step& step) {
        if (!watch_ || !step.to.z) return fail("a dwell where no seat is at depth");
        fail(watch_->dwell(state_, height(*step.to.z), step.seconds));
        state_.dwelt(step.seconds);
    }

    // What a move needs whatever kind it is.
    void before_move(const Step& step) {
        modes(step.modes);
        if (step.from.x != step.to.x || step.from.y != step.to.y) {
            if (state_.turning()) fail("moves across with the spindle turning");
            if (!out_of_the_way(step.from)) fail("moves across below the clear height, or before Z is known");
            if (!state_.float_fit_to_go_across()) fail("moves across with the float not centred and locked");
        }
    }

    void rapid(const Step& step) {
        before_move(step);
        if (!fault_.empty()) return;
        const Position &from = step.from, &to = step.to;
        const bool in_height = from.z != to.z;
        const bool sideways = from.x != to.x || from.y != to.y;
        if (in_height) length_offset(step.modes);
        if (sideways && in_height) return fail("a rapid slanting down or up");
        if (!in_height && watch_)
            return fail(fmt::format("the tool is drawn back before seat {} is finished", stop()->id));
        if (!in_height) return across(to);
        if (state_.standing() != Standing::known || !from.z)
            return fail("a rapid in Z from a height not known: the first way is a slow feed");
        const double h = height(*to.z);
        if (h > route_.clear + tolerance_) return fail("a rapid above the clear height planned");
        if (h < height(*from.z)) return fail("a rapid downwards");
        if (state_.turning()) return fail("a rapid with the spindle turning");
        if (!clear(h)) return fail("a rapid that ends below the clear height");
        if (!watch_) return;
        fail(watch_->rapid_up(state_, height(*from.z)));
        leave_seat();
    }

    void across(const Position& to) {
        if (!to.x || !to.y) return fail("a move across with one axis not yet known");
        if (measure_due()) {
            const auto& place = job_.machine.measure_at;
            if (!place || !at(to, *place)) fail("moves on before the first seat is measured");
            measuring_ = true;
            return;
        }
        if (!stop()) {
            const auto& place = job_.machine.load_at;
            if (!place || !at(to, *place)) fail("a move across after the last seat");
            return;
        }
        if (pilots_.goes_aside(*stop(), to)) return;
        if (!at(to, stop()->at))
            return fail(fmt::format("moves to X {:.4f} Y {:.4f} mm; seat {} is at X {:.4f} Y {:.4f} mm",
                                    *to.x, *to.y, stop()->id, stop()->at.x(), stop()->at.y()));
        fail(pilots_.goes_to(*stop()));
        watch_.emplace(job_, route_, *stop(), mouths_[next_], tolerance_);
    }

    // A seat is behind once it is cut and the tool stands clear again.
    void leave_seat() {
        if (!watch_->done()) return;
        measured_ = measuring_ = false;
        ++next_;
        announced_.clear();
        watch_.reset();
    }
    bool measure_due() const {
        return route_.measure_after && next_ == *route_.measure_after + 1 && !measured_;
    }

    void feed(const Step& step) {
        before_move(step);
        length_offset(step.modes);
        if (!fault_.empty()) return;
        const Position &from = step.from, &to = step.to;
        if (from.x != to.x || from.y != to.y) return fail("a feed sideways");
        if (!to.z) return fail("a feed from a place not known");
        if (state_.standing() != Standing::known || !from.z) return up_from_anywhere(step);
        const double h = height(*to.z);
        if (h == height(*from.z)) return;
        if (!stop()) return fail("a feed after the last seat");
        const Stop& seat = *stop();
        if (!watch_) return fail(fmt::format("goes down beside seat {}", seat.id));
        if (announced_ != comment_words(seat.id))
            return fail(fmt::format("goes down at seat {} without a comment naming it", seat.id));
        if (job_.machine.zero == job::ZeroKept::offsets && step.modes.tool != seat.tool.number)
            return fail(fmt::format("seat {} needs cutter {}", seat.id, seat.tool.number));
        if (h > route_.clear + tolerance_) return fail("a feed above the clear height planned");
        fail(watch_->feed(state_, {height(*from.z), h, step.modes.feed, step.modes.rpm}));
        if (clear(h)) leave_seat();
    }

    // The first way in height after the start, a halt or a change.
    void up_from_anywhere(const Step& step) {
        if (!state_.zero_trusted()) return fail("moves to a height before Z0 of this cutter was asked for");
        const int cutter =
            job_.machine.zero == job::ZeroKept::offsets ? step.modes.tool : route_.zeros.front().cutter;
        if (!pilots_.looked_at(cutter))
            return fail(fmt::format("moves to a height before cutter {} was looked at", cutter));
        if (!same(height(*step.to.z), route_.clear))
            return fail("the first way in Z after a halt is not straight to the clear height");
        if (step.modes.feed > job_.cut.enter_feed + feed_tolerance)
            return fail(fmt::format("the first way in Z after a halt is at {:.0f} mm/min, allowed {:.0f}",
                                    60 * step.modes.feed, 60 * job_.cut.enter_feed));
        state_.at_clear_height();
    }

    void end(const Step& step) {
        ended_ = true;
        if (stop()) fail(fmt::format("seat {} is not cut", stop()->id));
        if (state_.turning()) fail("the program ends with the spindle turning");
        if (!state_.float_fit_to_go_across()) fail("the program ends with the float not centred and locked");
        if (!job_.dialect.top.empty() && state_.standing() != Standing::top)
            fail("the program ends without the way to the top");
        if (!out_of_the_way(step.to)) fail("the program ends below the clear height");
        const bool measured_after = measure_due();
        const auto& place = measured_after ? job_.machine.measure_at : job_.machine.load_at;
        if (place && !at(step.to, *place))
            fail(measured_after ? "the program ends elsewhere than where the first seat is measured"
                                : "the program ends elsewhere than where heads are loaded");
    }

    const job::Job& job_;
    const Route& route_;
    std::vector<double> mouths_;
    MachineState state_;
    PilotWatch pilots_;
    double tolerance_;
    std::size_t next_ = 0;            // stop to be cut
    std::optional<SeatWatch> watch_;  // while over or in it
    bool started_ = false, ended_ = false;
    bool halted_ = false;  // ever
    bool measuring_ = false, measured_ = true;
    std::string said_;       // comments since the last step
    std::string announced_;  // valve named by the last such comment
    int line_ = 0;
    std::string fault_;
};

}  // namespace

std::optional<ProgramFault> read_back(std::string_view program, const job::Job& job, const Route& route,
                                      const Expected& expected) {
    if (std::string fault = fault_of_route(job, route, expected); !fault.empty())
        return ProgramFault{0, fault};
    const auto steps = interpret(program, job.dialect, job.machine.tool_float);
    if (!steps) return steps.error();
    return ReadBack(job, route, expected).run(*steps);
}

}  // namespace seatwright::cut
