#include "seatwright/cut/conditions.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/cut/dwell.hpp"
#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {

namespace {

double whole_steps(double value, double step) {
    return step > 0 ? std::floor(value / step * (1 + 1e-12)) * step : value;
}
double ceil_to(double value, double step) {
    return step > 0 ? std::ceil(value / step * (1 - 1e-12)) * step : value;
}

class Choice {
  public:
    Choice(const ConditionsAsked& asked, const job::Machine& machine) : asked_(asked), machine_(machine) {
        feed_range_ = asked.material.feed.value_or(usual_feed);
        if (asked.material.kc11 && asked.material.mc)
            data_ = CuttingData{*asked.material.kc11, *asked.material.mc, asked.material.normal_ratio};
        out_.forces_known = data_.has_value();
    }

    Conditions run() {
        speed_range();
        out_.feed = feed_range_.high;
        out_.finish_feed = feed_range_.low;
        if (data_) {
            feed_within_limits();
            out_.finish_feed = std::min(out_.finish_feed, out_.feed);
            out_.load = load_of(asked_.form, *data_, out_.feed, asked_.blades);
            speed_within_power();
            against_chatter();
            dwell();
            pilot_verdict();
        } else {
            out_.load.chip = out_.feed / asked_.blades * std::cos(asked_.form.face_angle);
            out_.dwell_turns = usual_dwell_turns;
        }
        out_.surface_speed = surface_speed_of(out_.rpm, asked_.form.largest_diameter);
        if (data_) out_.power = power_of(out_.load.torque, out_.rpm);
        return std::move(out_);
    }

  private:
    void warn(const char* code, const Sentence& text, Severity severity = Severity::note) {
        out_.warnings.push_back({"cut", code, std::nullopt,
                                 sentence<"of-seats">("seats"_is = asked_.what, "text"_is = text), severity});
    }

    void speed_range() {
        const job::Range surface = asked_.material.speed.value_or(usual_surface_speed);
        const bool third = asked_.speed == job::SpeedRule::lower_third;
        const double most = third ? surface.low + (surface.high - surface.low) / 3 : surface.high;
        const double diameter = asked_.form.largest_diameter;
        const double wanted_low = rpm_of(surface.low, diameter), wanted_high = rpm_of(most, diameter);
        const double machine_low = machine_.rpm_min.value_or(slowest_spindle);
        const double machine_high = machine_.rpm_max.value_or(wanted_high);
        double top = whole_steps(std::min(wanted_high, machine_high), machine_.rpm_step);
        if (top < machine_low) {
            top = std::min(ceil_to(machine_low, machine_.rpm_step), machine_high);
            if (top > wanted_high)
                warn("speed-range",
                     sentence<"slowest-too-fast">(
                         "rpm"_is = as_number(top, 0),
                         "speed"_is = as_surface_speed(surface_speed_of(top, diameter), 1),
                         "most"_is = as_surface_speed(most, 0),
                         "why"_is = third ? sentence<"lower-third">() : sentence<"material-allows">()));
        } else if (top < wanted_low) {
            warn("speed-range",
                 sentence<"fastest-too-slow">(
                     "rpm"_is = as_number(top, 0),
                     "speed"_is = as_surface_speed(surface_speed_of(top, diameter), 1),
                     "least"_is = as_surface_speed(surface.low, 0),
                     "range"_is = third ? sentence<"its-lower-third">() : sentence<"its-range">()));
        }
        out_.fastest = top;
        out_.slowest = std::min(top, std::max(machine_low, wanted_low));
        out_.rpm = top;
    }

    // Side force on the pilot, if there is a pilot that feels any.
    std::optional<Bending> bending_at(const Load& load) const {
        if (!asked_.pilot || !asked_.pilot->free_length || !(*asked_.pilot->free_length > 0))
            return std::nullopt;
        const double side = unbalanced_side(load.side, asked_.blades);
        const job::Pilot& pilot = *asked_.pilot;
        const Bending alone = bend(pilot.diameter, *pilot.free_length, side);
        if (!machine_.float_stiffness || !(*machine_.float_stiffness > 0)) return alone;
        return bend(pilot.diameter, *pilot.free_length, side * pilot_share(alone, *machine_.float_stiffness));
    }

    bool feed_allowed(double feed) {
        const Load load = load_of(asked_.form, *data_, feed, asked_.blades);
        const auto bending = bending_at(load);
        const bool torque = !machine_.torque || load.torque <= *machine_.torque;
        const bool pilot = !bending || bending->stress <= pilot_stress_limit;
        if (!torque || !pilot)
            feed_limit_ = torque  ? sentence<"spare-pilot">()
                          : pilot ? sentence<"spare-torque">()
                                  : sentence<"spare-both">();
        return torque && pilot;
    }

    void feed_within_limits() {
        if (feed_allowed(out_.feed)) return;
        // Every load grows with the feed: bisect for the largest allowed, then down to a whole step.
        double low = feed_range_.low, high = feed_range_.high;
        if (feed_allowed(low)) {
            for (int i = 0; i < 40; ++i) {
                const double middle = 0.5 * (low + high);
                (feed_allowed(middle) ? low : high) = middle;
            }
        }
        out_.feed = std::max(feed_range_.low, whole_steps(low, feed_step));
        const Load load = load_of(asked_.form, *data_, out_.feed, asked_.blades);
        if (machine_.torque && load.torque > *machine_.torque)
            warn("torque",
                 sentence<"torque">("torque"_is = as_torque(load.torque, 1),
                                    "has"_is = as_torque(*machine_.torque, 1)),
                 Severity::blocking);
        else
            warn("feed-lowered", sentence<"feed-lowered">("feed"_is = as_length(out_.feed),
                                                          "instead"_is = as_length(feed_range_.high),
                                                          "spare"_is = feed_limit_));
    }

    void speed_within_power() {
        if (!machine_.power || power_of(out_.load.torque, out_.rpm) <= *machine_.power) return;
        const double most = *machine_.power / power_of(out_.load.torque, 1);
        const double lowered = whole_steps(most, machine_.rpm_step);
        if (lowered < out_.slowest) {
            out_.rpm = out_.fastest = std::min(out_.fastest, ceil_to(out_.slowest, machine_.rpm_step));
            warn("power",
                 sentence<"power">("power"_is = as_number(power_of(out_.load.torque, out_.rpm), 0),
                                   "rpm"_is = as_number(out_.rpm, 0),
                                   "has"_is = as_number(*machine_.power, 0)),
                 Severity::blocking);
            return;
        }
        out_.rpm = out_.fastest = lowered;
        warn("speed-lowered", sentence<"speed-lowered">("rpm"_is = as_number(lowered, 0),
                                                        "power"_is = as_number(*machine_.power, 0)));
    }

    void against_chatter() {
        const auto& mode = machine_.mode;
        const bool measured = mode && mode->frequency > 0 && mode->stiffness > 0 && mode->damping > 0;
        if (!measured || !(out_.load.stiffness > 0)) return;
        out_.lobes = Lobes{*machine_.mode, out_.load.stiffness, asked_.blades};
        const double width = asked_.form.total_width;
        if (const auto stable =
                fastest_stable(*out_.lobes, width, out_.slowest, out_.fastest, machine_.rpm_step)) {
            out_.rpm = *stable;
            out_.stable_width = stable_width(*out_.lobes, out_.rpm);
            return;
        }
        const WidestStable widest = widest_stable(*out_.lobes, out_.slowest, out_.fastest, machine_.rpm_step);
        out_.rpm = widest.rpm;
        out_.stable_width = widest.width;
        out_.stable = false;
        warn("chatter",
             sentence<"chatter">("low"_is = as_number(out_.slowest, 0),
                                 "high"_is = as_number(out_.fastest, 0), "width"_is = as_place(width),
                                 "widest"_is = as_place(widest.width), "rpm"_is = as_number(widest.rpm, 0),
                                 "least"_is = as_place(least_width(*out_.lobes))));
    }

    void dwell() {
        out_.dwell_turns = usual_dwell_turns;
        if (!machine_.axial_stiffness || !(*machine_.axial_stiffness > 0)) return;
        // What is left to spring back when the feed stops is what the finishing feed bent.
        const Load finishing = load_of(asked_.form, *data_, out_.finish_feed, asked_.blades);
        const auto deflection = deflection_of(finishing.thrust, out_.finish_feed, *machine_.axial_stiffness);
        const double turns = dwell_turns_for(deflection, dwell_residue);
        out_.dwell_turns = std::min(turns, most_dwell_turns);
        if (turns > most_dwell_turns)
            warn("dwell",
                 sentence<"dwell">("gives"_is = as_length(deflection.start), "turns"_is = as_number(turns, 0),
                                   "leaves"_is = as_length(dwell_residue),
                                   "most"_is = as_number(most_dwell_turns, 0)));
    }

    void pilot_verdict() {
        out_.pilot_bending = bending_at(out_.load);
        if (!out_.pilot_bending) return;
        const Bending& bending = *out_.pilot_bending;
        if (bending.stress > pilot_stress_limit)
            warn("pilot-bending", sentence<"pilot-bending">("pilot"_is = asked_.pilot->name,
                                                            "stress"_is = as_pressure(bending.stress, 0),
                                                            "limit"_is = as_pressure(pilot_stress_limit, 0)));
        if (bending.slenderness > pilot_slenderness_limit)
            warn("pilot-slender",
                 sentence<"pilot-slender">("pilot"_is = asked_.pilot->name,
                                           "diameters"_is = as_number(bending.slenderness, 1),
                                           "limit"_is = as_number(pilot_slenderness_limit, 0)));
    }

    const ConditionsAsked& asked_;
    const job::Machine& machine_;
    job::Range feed_range_;
    Sentence feed_limit_;  // what the feed was last too much for
    std::optional<CuttingData> data_;
    Conditions out_;
};

}  // namespace

double rpm_of(double surface_speed, double diameter) {
    require(diameter > 0, "a form has a diameter");
    return 1000 * surface_speed / (pi * diameter);
}

double surface_speed_of(double rpm, double diameter) {
    return pi * diameter * rpm / 1000;
}

Conditions choose_conditions(const ConditionsAsked& asked, const job::Machine& machine) {
    Conditions chosen = Choice(asked, machine).run();
    chosen.fastest_rpm = chosen.rpm;
    if (asked.speed == job::SpeedRule::fastest) return chosen;
    ConditionsAsked whole_range = asked;
    whole_range.speed = job::SpeedRule::fastest;
    const Conditions fastest = Choice(whole_range, machine).run();
    chosen.fastest_rpm = fastest.rpm;
    chosen.fastest = fastest.fastest;
    return chosen;
}

}  // namespace seatwright::cut
