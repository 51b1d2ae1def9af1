// One seat's way in, cut and way out held against the state table of working.md ("Float and spindle",
// "Feeds"), step by step. Heights mm, of the cutter's gauge plane, up positive; feeds mm/s.
#pragma once

#include <string>

#include "seatwright/cut/machine_state.hpp"

namespace seatwright::cut {

class SeatWatch {
  public:
    // `over_mouth`: the least height at which the tool's lowest point stands clear of what it is to meet;
    // `tolerance`: how far a written height may be from the one meant.
    SeatWatch(const job::Job& job, const Route& route, const Stop& stop, double over_mouth, double tolerance);

    struct Move {
        double from = 0, to = 0, rate = 0, rpm = 0;
    };
    // A feed straight down or up, to another height; what is wrong with it, empty if nothing.
    std::string feed(MachineState& state, const Move& move);
    std::string rapid_up(const MachineState& state, double from) const;
    std::string dwell(const MachineState& state, double height, double seconds);
    std::string spindle_on(const MachineState& state, double height, double rpm) const;
    std::string float_freed(double height) const;
    std::string float_locked(double height) const;
    bool tip_out(double height) const { return height >= over_mouth_ - tolerance_; }
    bool done() const { return dwelt_; }

  private:
    std::string down(MachineState& state, const Move& move);
    std::string into_guide(const MachineState& state, const Move& move) const;
    std::string cutting(const MachineState& state, const Move& move) const;
    std::string up(MachineState& state, const Move& move);
    std::string lift(const MachineState& state, const Move& move);
    std::string out_of_guide(const MachineState& state, const Move& move) const;
    bool below(double height, double level) const { return height < level - tolerance_; }
    bool above(double height, double level) const { return height > level + tolerance_; }

    const job::Job& job_;
    const Route& route_;
    const Stop& stop_;
    double over_mouth_, tolerance_;
    bool dwelt_ = false, lifted_ = false;
};

}  // namespace seatwright::cut
