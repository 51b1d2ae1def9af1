#include "seatwright/cut/conditions.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/length_words.hpp"
#include "seatwright/base/unit_words.hpp"
#include "seatwright/cut/dwell.hpp"
#include "seatwright/hold/words.hpp"

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
    void warn(const char* code, std::string text, Severity severity = Severity::note) {
        out_.warnings.push_back({"cut", code, std::nullopt, asked_.what + ": " + std::move(text), severity});
    }

    std::string say(double mm) const { return length_words(mm, asked_.unit); }
    std::string speed(double m_per_min, int decimals) const {
        return words_of(surface_speed_shown(m_per_min, asked_.unit), decimals);
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
                     fmt::format(
                         "the machine's slowest speed of {:.0f} rpm cuts at {}, faster than the {} {}", top,
                         speed(surface_speed_of(top, diameter), 1), speed(most, 0),
                         third ? "of the lower third of the material's range" : "the material allows"));
        } else if (top < wanted_low) {
            warn(
                "speed-range",
                fmt::format("{:.0f} rpm cuts at {}, slower than the {} the material asks for; no step of the "
                            "machine lies inside {}",
                            top, speed(surface_speed_of(top, diameter), 1), speed(surface.low, 0),
                            third ? "the lower third of its range" : "its range"));
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
            feed_limit_ = torque ? "the pilot" : pilot ? "the machine's torque" : "torque and pilot";
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
                 fmt::format("{} even at the finest feed, the machine has {}; cut top and throat first, then "
                             "the face",
                             words_of(torque_shown(load.torque, asked_.unit), 1),
                             words_of(torque_shown(*machine_.torque, asked_.unit), 1)),
                 Severity::blocking);
        else
            warn("feed-lowered", fmt::format("fed {} a turn instead of {}, to spare {}", say(out_.feed),
                                             say(feed_range_.high), feed_limit_));
    }

    void speed_within_power() {
        if (!machine_.power || power_of(out_.load.torque, out_.rpm) <= *machine_.power) return;
        const double most = *machine_.power / power_of(out_.load.torque, 1);
        const double lowered = whole_steps(most, machine_.rpm_step);
        if (lowered < out_.slowest) {
            out_.rpm = out_.fastest = std::min(out_.fastest, ceil_to(out_.slowest, machine_.rpm_step));
            warn("power",
                 fmt::format(
                     "{:.0f} W even at {:.0f} rpm, the slowest speed, the machine has {:.0f} W; cut top and "
                     "throat first, then the face",
                     power_of(out_.load.torque, out_.rpm), out_.rpm, *machine_.power),
                 Severity::blocking);
            return;
        }
        out_.rpm = out_.fastest = lowered;
        warn("speed-lowered",
             fmt::format("turned at {:.0f} rpm for the machine's {:.0f} W", lowered, *machine_.power));
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
             fmt::format("no speed from {:.0f} to {:.0f} rpm is free of chatter at the form's {} of cut; "
                         "{} would be stable at {:.0f} rpm, {} at any speed: open top and throat "
                         "first, or use a narrower blade",
                         out_.slowest, out_.fastest, hold::length_words(width, asked_.unit),
                         hold::length_words(widest.width, asked_.unit), widest.rpm,
                         hold::length_words(least_width(*out_.lobes), asked_.unit)));
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
            warn("dwell", fmt::format("the spindle gives {} under the thrust; {:.0f} turns would leave "
                                      "{}, more than {:.0f} rub and harden the face: feed the last of it "
                                      "more finely",
                                      say(deflection.start), turns, say(dwell_residue), most_dwell_turns));
    }

    void pilot_verdict() {
        out_.pilot_bending = bending_at(out_.load);
        if (!out_.pilot_bending) return;
        const Bending& bending = *out_.pilot_bending;
        if (bending.stress > pilot_stress_limit)
            warn("pilot-bending",
                 fmt::format("the blade bends the pilot {} with {}, more than the {} hardened steel endures; "
                             "use a stouter or shorter one or more blades",
                             asked_.pilot->name, words_of(pressure_shown(bending.stress, asked_.unit), 0),
                             words_of(pressure_shown(pilot_stress_limit, asked_.unit), 0)));
        if (bending.slenderness > pilot_slenderness_limit)
            warn("pilot-slender",
                 fmt::format("pilot {} stands {:.1f} diameters free; beyond {:.0f} it whips",
                             asked_.pilot->name, bending.slenderness, pilot_slenderness_limit));
    }

    const ConditionsAsked& asked_;
    const job::Machine& machine_;
    job::Range feed_range_;
    const char* feed_limit_ = "";  // what the feed was last too much for
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
