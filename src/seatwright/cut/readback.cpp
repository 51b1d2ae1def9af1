#include "seatwright/cut/readback.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/length_words.hpp"
#include "seatwright/cut/program.hpp"

namespace seatwright::cut {

namespace {

// Feeds are written to 0.01 mm/min or 0.0001 in/min: half of that, mm/s, and as much again for rounding.
constexpr double feed_tolerance = 0.01 / 60;
// A dwell may be longer than asked by rounding up, never by more than this, s.
constexpr double dwell_excess = 0.02;
constexpr double dwell_tolerance = 1e-6;
constexpr double rpm_tolerance = 1e-3;

class ReadBack {
  public:
    ReadBack(const job::Job& job, const Route& route)
        : job_(job), route_(route), tolerance_(written_tolerance(job)) {}

    std::optional<ProgramFault> run(const std::vector<Step>& steps) {
        travel();
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
    bool clear(const std::optional<double>& z) const { return z && *z >= route_.clear - tolerance_; }
    const Stop* stop() const { return next_ < route_.stops.size() ? &route_.stops[next_] : nullptr; }

    void travel() {
        double lowest = route_.clear;
        Vec2 low = Vec2::Zero(), high = Vec2::Zero();
        for (const Stop& s : route_.stops) {
            lowest = std::min(lowest, s.z);
            low = low.cwiseMin(s.at);
            high = high.cwiseMax(s.at);
        }
        const auto within = [&](const char* axis, double span, const std::optional<double>& room) {
            if (room && span > *room + tolerance_)
                fail(fmt::format("{} must move {}, the machine has {}", axis, depth_words(span, job_.units),
                                 depth_words(*room, job_.units)));
        };
        within("X", high.x() - low.x(), job_.machine.travel_x);
        within("Y", high.y() - low.y(), job_.machine.travel_y);
        within("Z", route_.clear - lowest, job_.machine.travel_z);
    }

    void take(const Step& step) {
        if (ended_) return fail("something follows the program's end");
        switch (step.kind) {
            case StepKind::comment:
                return comment(step);
            case StepKind::spindle:
                return spindle(step);
            case StepKind::tool_change:
                return change(step);
            case StepKind::rapid:
                return rapid(step);
            case StepKind::feed:
                return feed(step);
            case StepKind::dwell:
                return dwell(step);
            case StepKind::stop:
                return fail("the program stops where no stop is planned");
            case StepKind::control:
                return fail("a word of the control where none is planned");
            case StepKind::end:
                return end(step);
        }
    }

    void comment(const Step& step) {
        std::string_view words = step.comment;
        while (!words.empty() && words.front() == ' ') words.remove_prefix(1);
        if (words.substr(0, 6) == "valve ") announced_ = words.substr(6, words.rfind(", seat ") - 6);
    }

    void modes(const Modes& modes) {
        if (modes.plane != 17) fail("the XY plane (G17) is not in force");
        const int units = job_.program_unit() == LengthUnit::inch ? 20 : 21;
        if (modes.units != units) fail(fmt::format("the units (G{}) are not in force", units));
        if (modes.distance != 90) fail("absolute distances (G90) are not in force");
        if (modes.feed_mode != 94) fail("feed per minute (G94) is not in force");
        if (modes.offset != 54) fail("the work offset (G54) is not in force");
    }

    void spindle(const Step& step) {
        const bool at_rest = !step.to.z || clear(step.to.z);
        if (!at_rest) fail("the spindle is switched below the clear height");
        if (step.modes.spindle == Spindle::off) return;
        if (step.modes.spindle == Spindle::counterclockwise) fail("the spindle turns backwards");
        const auto& machine = job_.machine;
        if (machine.rpm_max && step.modes.rpm > *machine.rpm_max + rpm_tolerance)
            fail(fmt::format("{} rpm is faster than the machine turns", step.modes.rpm));
        if (machine.rpm_min && step.modes.rpm < *machine.rpm_min - rpm_tolerance)
            fail(fmt::format("{} rpm is slower than the machine turns", step.modes.rpm));
    }

    void change(const Step& step) {
        if (step.modes.spindle != Spindle::off) fail("the cutter is changed with the spindle turning");
        if (!clear(step.to.z)) fail("the cutter is changed below the clear height");
        if (!stop() || step.modes.tool != stop()->tool.number)
            fail(fmt::format("cutter {} is not the one the next seat needs", step.modes.tool));
    }

    void rapid(const Step& step) {
        modes(step.modes);
        const Position &from = step.from, &to = step.to;
        if (to.z && *to.z > route_.clear + tolerance_) fail("a rapid above the clear height planned");
        if (!from.z) {
            if (to.x || to.y || !clear(to.z)) fail("the first move is not straight to the clear height");
            return;
        }
        const bool sideways = from.x != to.x || from.y != to.y;
        if (sideways || *to.z < *from.z) {
            if (!clear(from.z) || !clear(to.z)) return fail("a rapid below the clear height");
            if (sideways) across(to);
            return;
        }
        if (*to.z == *from.z) return;
        if (!clear(from.z) && !dwelt_) return fail("the tool is drawn back before the seat is finished");
        if (clear(to.z) && dwelt_) {
            ++next_;
            dwelt_ = false;
            announced_.clear();
        }
    }

    void across(const Position& to) {
        if (!to.x || !to.y) return fail("a move across with one axis not yet known");
        if (!stop()) return fail("a move across after the last seat");
        if (!same(*to.x, stop()->at.x()) || !same(*to.y, stop()->at.y()))
            fail(fmt::format("moves to X {:.4f} Y {:.4f} mm; seat {} is at X {:.4f} Y {:.4f} mm", *to.x,
                             *to.y, stop()->id, stop()->at.x(), stop()->at.y()));
    }

    void feed(const Step& step) {
        modes(step.modes);
        const Position &from = step.from, &to = step.to;
        if (!stop()) return fail("a feed after the last seat");
        const Stop& seat = *stop();
        if (!from.x || !from.y || !from.z) return fail("a feed from a place not known");
        if (from.x != to.x || from.y != to.y) return fail("a feed sideways");
        if (!same(*to.x, seat.at.x()) || !same(*to.y, seat.at.y()))
            return fail(fmt::format("goes down beside seat {}", seat.id));
        if (announced_ != comment_words(seat.id))
            return fail(fmt::format("goes down at seat {} without a comment naming it", seat.id));
        if (dwelt_) return fail(fmt::format("seat {} is cut a second time", seat.id));
        if (*to.z > *from.z) return fail("a feed upwards");
        if (*to.z < seat.z - tolerance_)
            return fail(
                fmt::format("goes to Z {:.4f} mm; seat {} ends at {:.4f} mm", *to.z, seat.id, seat.z));
        if (step.modes.tool != seat.tool.number)
            return fail(fmt::format("seat {} needs cutter {}", seat.id, seat.tool.number));
        if (step.modes.spindle != Spindle::clockwise) return fail("a feed with the spindle not turning");
        if (std::abs(step.modes.rpm - seat.rpm) > rpm_tolerance)
            return fail(
                fmt::format("{} rpm; seat {} is planned at {} rpm", step.modes.rpm, seat.id, seat.rpm));
        feed_rate(step, seat);
    }

    void feed_rate(const Step& step, const Stop& seat) {
        const double from = *step.from.z, to = *step.to.z, rate = step.modes.feed;
        if (to < seat.cut_start - tolerance_) {
            if (from > seat.cut_start + tolerance_)
                return fail("runs into the seat without starting the cutting feed");
            if (std::abs(rate - seat.feed) > feed_tolerance)
                fail(fmt::format("cuts seat {} at {:.2f} mm/min, planned {:.2f}", seat.id, 60 * rate,
                                 60 * seat.feed));
            return;
        }
        const bool entering = from > seat.entry_end + tolerance_ && to < seat.entry_top - tolerance_;
        const double most = entering ? pilot_entry_feed : approach_feed;
        if (rate > most + feed_tolerance)
            fail(fmt::format("{} at {:.0f} mm/min, allowed {:.0f}",
                             entering ? "lets the pilot in" : "comes down", 60 * rate, 60 * most));
    }

    void dwell(const Step& step) {
        if (!stop() || !step.to.z || !same(*step.to.z, stop()->z) || dwelt_)
            return fail("a dwell where no seat is at depth");
        const double asked = stop()->dwell_seconds;
        if (step.seconds < asked - dwell_tolerance || step.seconds > asked + dwell_excess)
            return fail(
                fmt::format("dwells {:.3f} s on seat {}, planned {:.3f} s", step.seconds, stop()->id, asked));
        dwelt_ = true;
    }

    void end(const Step& step) {
        ended_ = true;
        if (stop()) fail(fmt::format("seat {} is not cut", stop()->id));
        if (step.modes.spindle != Spindle::off) fail("the program ends with the spindle turning");
        if (!clear(step.to.z)) fail("the program ends below the clear height");
    }

    const job::Job& job_;
    const Route& route_;
    double tolerance_;
    std::size_t next_ = 0;  // stop being cut
    bool dwelt_ = false;    // at its depth, dwell done
    bool ended_ = false;
    std::string announced_;  // valve named by the last comment
    int line_ = 0;
    std::string fault_;
};

}  // namespace

std::optional<ProgramFault> read_back(std::string_view program, const job::Job& job, const Route& route) {
    const auto steps = interpret(program, job.dialect, job.machine.tool_float);
    if (!steps) return steps.error();
    return ReadBack(job, route).run(*steps);
}

}  // namespace seatwright::cut
