// Speed and feed of one form: from the top of what the material allows, lowered until machine, pilot and
// chatter agree.
//
// Order of the limits: (1) n = 1000·v_c/(π·D_max) from the top of the lower third of the material's speed
// range, or of the whole of it where `speed` is fastest, no faster than
// the machine, rounded down to its step; (2) the feed from the top of its range, lowered until torque and the
// pilot's bending are allowed; (3) the speed lowered until the power is allowed; (4) the fastest stable speed
// left, or, if there is none, the speed with the widest stable form. Whatever cannot be met inside the
// material's ranges is said.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/cut/bending.hpp"
#include "seatwright/cut/chatter.hpp"
#include "seatwright/cut/force.hpp"
#include "seatwright/job/job.hpp"
#include "seatwright/words/notice.hpp"

namespace seatwright::cut {

// Cutting data used when the material's entry has gaps: integral grey iron with a form blade, common
// practice.
inline constexpr job::Range usual_surface_speed{20, 40};  // m/min
inline constexpr job::Range usual_feed{0.02, 0.05};       // mm per turn
// A machine that names no slowest speed.
inline constexpr double slowest_spindle = 1;
// Feeds are lowered in whole steps of this; no handwheel or program is finer.
inline constexpr double feed_step = 0.001;

struct ConditionsAsked {
    CutForm form;
    job::Material material;
    int blades = 1;
    std::optional<job::Pilot> pilot;  // carried or entered while cutting
    Sentence what;                    // "intake seats", for the warnings
    job::SpeedRule speed = job::SpeedRule::fastest;
};

struct Conditions {
    double rpm = 0, feed = 0, surface_speed = 0;
    double finish_feed = 0;  // per turn: the low end of the material's range
    double fastest_rpm = 0;  // free of chatter in the whole of the material's range, were it asked for
    Load load;
    bool forces_known = false;  // kc11 and mc are given
    double power = 0;
    double dwell_turns = 0;
    std::optional<Bending> pilot_bending;
    std::optional<Lobes> lobes;
    std::optional<double> stable_width;  // at rpm
    bool stable = true;
    double slowest = 0, fastest = 0;  // speeds that material and machine allow, rpm
    std::vector<Warning> warnings;
};

Conditions choose_conditions(const ConditionsAsked& asked, const job::Machine& machine);

// Spindle speed of a surface speed in m/min at a diameter in mm, and back.
double rpm_of(double surface_speed, double diameter);
double surface_speed_of(double rpm, double diameter);

}  // namespace seatwright::cut
