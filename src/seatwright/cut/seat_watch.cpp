#include "seatwright/cut/seat_watch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace seatwright::cut {

namespace {

// Feeds are written to 0.01 mm/min or 0.0001 in/min: half of that, mm/s, and as much again for rounding.
constexpr double feed_tolerance = 0.01 / 60;
// A dwell may be longer than asked by rounding up, never by more than this, s.
constexpr double dwell_excess = 0.02;
constexpr double dwell_tolerance = 1e-6;
constexpr double rpm_tolerance = 1e-3;

bool same_rate(double a, double b) {
    return std::abs(a - b) <= feed_tolerance;
}

}  // namespace

SeatWatch::SeatWatch(const job::Job& job, const Route& route, const Stop& stop, double over_mouth,
                     double tolerance)
    : job_(job), route_(route), stop_(stop), over_mouth_(over_mouth), tolerance_(tolerance) {}

std::string SeatWatch::feed(MachineState& state, const Move& move) {
    return move.to < move.from ? down(state, move) : up(state, move);
}

std::string SeatWatch::down(MachineState& state, const Move& move) {
    if (dwelt_) return fmt::format("seat {} is cut a second time", stop_.id);
    if (below(move.to, stop_.z))
        return fmt::format("goes to Z {:.4f} mm; seat {} ends at {:.4f} mm", move.to, stop_.id, stop_.z);
    if (below(move.to, stop_.approach)) return cutting(state, move);
    if (below(move.to, over_mouth_)) {
        if (stop_.pilot) state.into_guide();
        return into_guide(state, move);
    }
    if (move.rate > approach_feed + feed_tolerance)
        return fmt::format("comes down at {:.0f} mm/min, allowed {:.0f}", 60 * move.rate, 60 * approach_feed);
    return "";
}

std::string SeatWatch::into_guide(const MachineState& state, const Move& move) const {
    if (state.turning() && std::abs(move.rpm - stop_.entry_rpm) > rpm_tolerance)
        return fmt::format("the pilot enters at seat {} with the spindle turning at {} rpm", stop_.id,
                           move.rpm);
    if (stop_.pilot && !state.float_free())
        return fmt::format("the pilot enters at seat {} with the float not free", stop_.id);
    if (move.rate > job_.cut.enter_feed + feed_tolerance)
        return fmt::format("lets the pilot in at {:.0f} mm/min, allowed {:.0f}", 60 * move.rate,
                           60 * job_.cut.enter_feed);
    return "";
}

std::string SeatWatch::cutting(const MachineState& state, const Move& move) const {
    if (above(move.from, stop_.approach))
        return fmt::format("runs into seat {} without stopping at the approach height", stop_.id);
    if (!state.turning()) return "cuts with the spindle not turning";
    if (std::abs(move.rpm - stop_.rpm) > rpm_tolerance)
        return fmt::format("{} rpm; seat {} is planned at {} rpm", move.rpm, stop_.id, stop_.rpm);
    if (state.settled() < job_.machine.spin_up - dwell_tolerance)
        return fmt::format("cuts seat {} before the spindle is up to speed: {:.2f} s waited, {:.2f} s asked",
                           stop_.id, state.settled(), job_.machine.spin_up);
    const bool finishing = below(move.to, stop_.finish_from);
    if (finishing && above(move.from, stop_.finish_from) && !same_rate(move.rate, stop_.finish_feed))
        return fmt::format("seat {} is not finished at the finishing feed", stop_.id);
    const double rate = finishing ? stop_.finish_feed : stop_.feed;
    if (!same_rate(move.rate, rate))
        return fmt::format("cuts seat {} at {:.2f} mm/min, planned {:.2f}", stop_.id, 60 * move.rate,
                           60 * rate);
    if (finishing && above(move.from, stop_.finish_from))
        return fmt::format("seat {} is cut at the finishing feed all the way", stop_.id);
    return "";
}

std::string SeatWatch::up(MachineState& state, const Move& move) {
    std::string fault;
    if (!below(move.from, over_mouth_)) {
        if (move.rate > approach_feed + feed_tolerance) fault = "goes up too fast";
    } else if (!dwelt_) {
        fault = fmt::format("the tool is drawn back before seat {} is finished", stop_.id);
    } else if (!lifted_) {
        fault = lift(state, move);
    } else {
        fault = out_of_guide(state, move);
    }
    if (tip_out(move.to)) state.out_of_guide();
    return fault;
}

std::string SeatWatch::lift(const MachineState& state, const Move& move) {
    if (!state.turning()) return fmt::format("the spindle stops while the blade lies on seat {}", stop_.id);
    if (above(move.to, stop_.z + slow_lift))
        return fmt::format("the lift off seat {} goes on with the spindle turning", stop_.id);
    if (move.rate > stop_.finish_feed + feed_tolerance)
        return fmt::format("lifts off seat {} at {:.2f} mm/min, allowed {:.2f}", stop_.id, 60 * move.rate,
                           60 * stop_.finish_feed);
    lifted_ = !below(move.to, stop_.z + slow_lift);
    return "";
}

std::string SeatWatch::out_of_guide(const MachineState& state, const Move& move) const {
    if (state.turning())
        return fmt::format("the pilot comes out at seat {} with the spindle turning", stop_.id);
    if (state.settled() < job_.machine.spin_down - dwell_tolerance)
        return fmt::format(
            "the pilot comes out at seat {} before the spindle stands: {:.2f} s waited, {:.2f} s asked",
            stop_.id, state.settled(), job_.machine.spin_down);
    if (stop_.pilot && !state.float_free())
        return fmt::format("the pilot comes out at seat {} with the float not free", stop_.id);
    const double loose = std::min(stop_.z + slow_lift + break_loose, over_mouth_);
    const double most =
        below(move.from, loose) ? std::min(break_loose_feed, job_.cut.enter_feed) : job_.cut.enter_feed;
    if (move.rate > most + feed_tolerance)
        return fmt::format("draws the pilot out at {:.0f} mm/min, allowed {:.0f}", 60 * move.rate, 60 * most);
    return "";
}

std::string SeatWatch::rapid_up(const MachineState& state, double from) const {
    if (!tip_out(from)) return fmt::format("a rapid with the tip below the mouth of {}", stop_.id);
    if (!state.float_fit_to_go_across())
        return fmt::format("a rapid over {} with the float not centred and locked", stop_.id);
    if (!dwelt_) return fmt::format("the tool is drawn back before seat {} is finished", stop_.id);
    return "";
}

std::string SeatWatch::dwell(const MachineState& state, double height, double seconds) {
    if (!dwelt_ && !above(height, stop_.z)) {
        const double asked = stop_.dwell_seconds;
        if (seconds < asked - dwell_tolerance || seconds > asked + dwell_excess)
            return fmt::format("dwells {:.3f} s on seat {}, planned {:.3f} s", seconds, stop_.id, asked);
        dwelt_ = true;
        return "";
    }
    const double wait = state.turning() ? job_.machine.spin_up : job_.machine.spin_down;
    if (state.settled() > 0 || seconds > wait + dwell_excess)
        return fmt::format("a dwell of {:.2f} s where none is asked for", seconds);
    return "";
}

std::string SeatWatch::spindle_on(const MachineState& state, double height, double rpm) const {
    const bool lets_in = route_.pilot == job::PilotUse::live && stop_.entry_rpm > 0 &&
                         std::abs(rpm - stop_.entry_rpm) <= rpm_tolerance;
    if (lets_in && !below(height, over_mouth_) && !above(height, stop_.over_mouth)) return "";
    if (above(height, stop_.approach) || below(height, stop_.approach))
        return fmt::format("the spindle is started at Z {:.4f} mm; seat {} is approached to {:.4f} mm",
                           height, stop_.id, stop_.approach);
    if (job_.machine.lock_to_cut && !state.float_locked())
        return fmt::format("the spindle is started at seat {} with the float not locked", stop_.id);
    return "";
}

std::string SeatWatch::float_freed(double height) const {
    if (!stop_.pilot) return fmt::format("the float is freed at seat {}, where no pilot leads", stop_.id);
    if (above(height, std::max(stop_.over_mouth, over_mouth_)))
        return fmt::format("the float is freed above the mouth of {}", stop_.id);
    if (below(height, stop_.approach)) {
        if (!lifted_) return fmt::format("the float is freed with the blade on seat {}", stop_.id);
    }
    return "";
}

std::string SeatWatch::float_locked(double height) const {
    if (tip_out(height)) return "";
    if (above(height, stop_.approach) || below(height, stop_.approach))
        return fmt::format("the float is locked half-way into the guide of {}", stop_.id);
    return "";
}

}  // namespace seatwright::cut
