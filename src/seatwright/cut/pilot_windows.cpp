#include "seatwright/cut/pilot_windows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"
#include "seatwright/base/length_words.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/job/kind_word.hpp"

namespace seatwright::cut {
namespace {

using job::PilotUse;

// Windows are kept to this (mm): rounding of the few sums in them.
constexpr double window_tolerance = 1e-9;
// A miss in size beside one in depth: what a taper of 0.0005 makes of it (pilots as shops have them).
constexpr double depth_per_size = 2000;

bool wedges(const job::Pilot& pilot) {
    return pilot.style == job::PilotStyle::tapered;
}

// Works through the conditions in the order a person would check them; the first not kept is the answer.
class Judge {
  public:
    Judge(PilotUse use, const job::Pilot& pilot, const job::Cutter& cutter, const GuideAtStop& guide,
          LengthUnit unit)
        : use_(use), pilot_(pilot), cutter_(cutter), guide_(guide), unit_(unit) {
        stand_.use = use;
    }

    Stand judge() {
        if (const std::string wrong = pairing_fault(use_, pilot_); !wrong.empty())
            return refuse(HeldCode::no_pilot, wrong, "another [cut] pilot, or a pilot of the other style");
        if (!in_bore()) return tl::unexpected(misfit_);
        misfit_.fits_bore = true;
        if (!figures_there()) return tl::unexpected(misfit_);
        stand_.to_guide = *guide_.form->to_seat + guide_.stop;
        const bool kept = use_ == PilotUse::planted ? planted() : carried();
        if (!kept) return tl::unexpected(misfit_);
        return stand_;
    }

  private:
    std::string depth(double mm) const { return depth_words(mm, unit_); }
    std::string size(double mm) const { return length_words(mm, unit_); }

    tl::unexpected<Misfit> refuse(HeldCode code, std::string reason, std::string frees) {
        note(code, std::move(reason), std::move(frees));
        return tl::unexpected(misfit_);
    }
    bool note(HeldCode code, std::string reason, std::string frees) {
        misfit_.code = code;
        misfit_.reason = std::move(reason);
        misfit_.frees = std::move(frees);
        return false;
    }
    // Whether a window is missed; the worst miss is kept.
    bool fails_by(double mm) {
        if (!(mm > window_tolerance)) return false;
        misfit_.lacks = std::max(misfit_.lacks, mm);
        return true;
    }
    bool lacks(const std::string& key, std::string_view what) {
        return note(HeldCode::missing, fmt::format("pilot \"{}\" needs {} (`{}`)", pilot_.name, what, key),
                    key);
    }
    std::string guide_key(const char* key) const {
        return std::string("guide.") + job::kind_word(guide_.kind) + "." + key;
    }

    // Fits the readings, or, parallel, the drawing bore less a clearance.
    bool in_bore() {
        const auto& form = *guide_.form;
        misfit_.fits_bore = !(pilot_.diameter > 0);  // nothing says that it does not
        if (misfit_.fits_bore) return lacks("pilot.diameter", "its diameter");
        if (guide_.read) {
            const find::Fit fit = find::fit_pilot(pilot_, *guide_.read, form.length);
            if (!fit.suits)
                return note(HeldCode::no_pilot,
                            fmt::format("pilot \"{}\" does not fit the bore as read", pilot_.name),
                            "a pilot that fits the guide");
            stand_.clearance = fit.clearance;
            stand_.lock = fit.lock_depth;
        } else if (wedges(pilot_)) {
            return note(HeldCode::no_pilot,
                        "the guide was not read, and a tapered pilot cannot be chosen by the drawing bore",
                        "a reading of the guide");
        } else if (!form.bore) {
            return note(HeldCode::missing, "the guide was not read and its drawing bore is not given",
                        guide_key("bore"));
        } else {
            stand_.clearance = *form.bore - pilot_.diameter;
            if (stand_.clearance < unread_clearance - find::size_tolerance)
                return note(
                    HeldCode::no_pilot,
                    fmt::format("pilot \"{}\" leaves less than {} of the drawing bore, and the guide was "
                                "not read",
                                pilot_.name, size(unread_clearance)),
                    "a reading of the guide, or a smaller pilot");
        }
        // Without its taper nobody knows how deep it goes; so much smaller it does not lock in any guide.
        if (wedges(pilot_) && !(pilot_.taper > 0) && stand_.clearance > most_clearance + find::size_tolerance)
            return too_small();
        return wedges(pilot_) || leads();
    }

    bool too_small() {
        return note(HeldCode::no_pilot,
                    fmt::format("pilot \"{}\" is {} smaller than the bore: it would not lead the cutter",
                                pilot_.name, size(stand_.clearance)),
                    "a pilot that fits the guide");
    }

    // A pilot that slides in the guide must not be lost in it.
    bool leads() {
        const auto& form = *guide_.form;
        if (form.length && form.to_seat)
            stand_.play = stand_.clearance * (0.5 + *form.to_seat / *form.length);
        if (stand_.clearance > most_clearance + find::size_tolerance) return too_small();
        if (!stand_.play || !guide_.runout_max) return true;
        const double runout = 2 * *stand_.play * std::sin(guide_.seat_angle);
        if (runout <= *guide_.runout_max + find::size_tolerance) return true;
        // A live pilot turns in the same play: where it lies in the bore the seat is off by as much.
        misfit_.fits_bore = true;
        fails_by((runout - *guide_.runout_max) * depth_per_size);
        return note(
            HeldCode::pilot_window,
            fmt::format("pilot \"{}\" has a play of {} at the seat, a runout of up to {} over the limit "
                        "of {}",
                        pilot_.name, size(*stand_.play), size(runout), size(*guide_.runout_max)),
            "a larger pilot");
    }

    bool figures_there() {
        const auto& form = *guide_.form;
        if (!form.to_seat) return lacks(guide_key("to_seat"), "the guide's top to the gauge plane");
        if (!form.length) return lacks(guide_key("length"), "the guide's length");
        if (wedges(pilot_) && !(pilot_.taper > 0)) return lacks("pilot.taper", "its taper");
        if (use_ == PilotUse::planted) {
            if (!pilot_.above) return lacks("pilot.above", "its gauge line to its upper end");
            if (!cutter_.lowest) return lacks("cutter.lowest", "the cutter's gauge plane to its lowest edge");
            if (!cutter_.bore_depth) return lacks("cutter.bore_depth", "how much of it the cutter swallows");
            return true;
        }
        if (!pilot_.reach) return lacks("pilot.reach", "the holder's face to its tip");
        if (!cutter_.drop) return lacks("cutter.drop", "the holder's face to the cutter's gauge plane");
        if (!form.below) return lacks(guide_key("below"), "the free room under the guide's far end");
        if (!wedges(pilot_)) return true;
        if (!pilot_.gauge_at) return lacks("pilot.gauge_at", "the holder's face to its gauge line");
        if (!pilot_.slide) return lacks("pilot.slide", "how far it can be pushed back");
        return true;
    }

    bool carried() {
        const double b = *pilot_.reach - *cutter_.drop, length = *guide_.form->length;
        double used = 0, used_u = 0;
        bool slides = true;
        if (wedges(pilot_)) {
            slides = slide_window();
            used = *stand_.slide_used;
            used_u = *stand_.lock_u;
        } else {
            stand_.slide_used = 0;
        }
        stand_.clear_above_stop = b + tip_over_mouth - stand_.to_guide;
        stand_.tip_past = b - used - stand_.to_guide - length;
        stand_.tip_past_most = *stand_.tip_past + used_u;
        const double room = *guide_.form->below - tip_off_floor;
        const bool clears = !fails_by(*stand_.tip_past_most - room);
        stand_.engaged = std::min(length, b - used - stand_.to_guide);
        const double least = std::max(engaged_diameters * pilot_.diameter, engaged_share * length);
        const bool leads = !fails_by(least - *stand_.engaged);
        if (!slides) return false;
        // A wedge stops where its taper locks, whatever the holder: the tip goes by what stands below that.
        if (!clears)
            return note(
                HeldCode::guide_room,
                fmt::format("the tip of pilot \"{}\" comes up to {} past the guide's far end, where {} "
                            "are free and {} of them must stay so",
                            pilot_.name, depth(*stand_.tip_past_most), depth(*guide_.form->below),
                            depth(tip_off_floor)),
                wedges(pilot_) ? "a pilot whose tip is nearer its gauge line, or a larger one with "
                                 "slide enough"
                               : "a shorter pilot, or a holder with more drop");
        if (!leads)
            return note(HeldCode::pilot_window,
                        fmt::format("pilot \"{}\" is only {} in the guide at the stop; {} are needed",
                                    pilot_.name, depth(std::max(0.0, *stand_.engaged)), depth(least)),
                        wedges(pilot_) ? "a pilot whose tip is further below its gauge line, or a smaller one"
                                       : "a longer pilot, or a holder with less drop");
        return true;
    }

    // Tapered: seated before the blade is near, and never driven solid.
    bool slide_window() {
        const double lock_u = 2 * bore_sd / pilot_.taper;
        stand_.lock_u = lock_u;
        const double g = *pilot_.gauge_at - *cutter_.drop;
        const double used = g - stand_.to_guide - stand_.lock.value_or(0);
        stand_.slide_used = used;
        const double least = guide_.depth + std::max(guide_.rest, 0.0) + guide_.approach + seated_before;
        const bool late = fails_by(least - (used - lock_u)), solid = fails_by(used + lock_u - *pilot_.slide);
        if (!(*pilot_.slide > 0))
            return note(HeldCode::pilot_window,
                        fmt::format("pilot \"{}\" cannot slide back and would be driven solid", pilot_.name),
                        "a pilot that slides in its holder, or [cut] pilot = \"planted\"");
        if (late)
            return note(
                HeldCode::pilot_window,
                fmt::format("pilot \"{}\" may seat only with {} left to the stop, where {} are needed "
                            "before the blade is near",
                            pilot_.name, depth(used - lock_u), depth(least)),
                "a pilot that stands further out, or a larger one");
        if (solid)
            return note(
                HeldCode::pilot_window,
                fmt::format("pilot \"{}\" may be pushed back {} at the stop and slides only {}: it could "
                            "be driven solid",
                            pilot_.name, depth(used + lock_u), depth(*pilot_.slide)),
                "a pilot with more slide, a smaller one, or a holder with more drop");
        return true;
    }

    bool planted() {
        stand_.lock_u = 2 * bore_sd / pilot_.taper;
        stand_.top = *pilot_.above - stand_.to_guide - stand_.lock.value_or(0);
        stand_.top_most = *stand_.top + *stand_.lock_u;
        // Counted from the tool's lowest point, which at the stop stands so far under the gauge plane.
        const double swallowed = *stand_.top_most + *cutter_.lowest;
        if (fails_by(swallowed - *cutter_.bore_depth))
            return note(HeldCode::pilot_window,
                        fmt::format("pilot \"{}\" may stand {} into the tool, whose bore swallows {}",
                                    pilot_.name, depth(swallowed), depth(*cutter_.bore_depth)),
                        "a shorter pilot, or a holder with a deeper bore");
        return true;
    }

    PilotUse use_;
    const job::Pilot& pilot_;
    const job::Cutter& cutter_;
    const GuideAtStop& guide_;
    LengthUnit unit_;
    PilotStand stand_;
    Misfit misfit_;
};

}  // namespace

PilotUse use_of(const job::CutRules& rules, const job::Pilot& pilot) {
    if (rules.pilot) return *rules.pilot;
    return pilot.turns_with_tool ? PilotUse::live : PilotUse::carried;
}

std::string pairing_fault(PilotUse use, const job::Pilot& pilot) {
    if (use == PilotUse::planted && !wedges(pilot))
        return fmt::format(
            "pilot \"{}\" slides in the guide and cannot be planted: planted needs a tapered one",
            pilot.name);
    if (use == PilotUse::live && wedges(pilot))
        return fmt::format(
            "pilot \"{}\" wedges in the guide and cannot turn there: live needs a parallel one", pilot.name);
    return {};
}

Stand stand_of(PilotUse use, const job::Pilot& pilot, const job::Cutter& cutter, const GuideAtStop& guide,
               LengthUnit unit) {
    require(guide.form != nullptr, "a guide is judged by its drawing");
    return Judge(use, pilot, cutter, guide, unit).judge();
}

double runout_without_pilot(const SpindleAxis& axis) {
    const double miss = 2 * axis.place_sd;
    return 2 * (miss * std::sin(axis.seat_angle) +
                0.5 * axis.gauge_diameter * axis.plumb_error * std::cos(axis.seat_angle));
}

std::optional<Misfit> without_pilot(const SpindleAxis& axis, LengthUnit unit) {
    if (!axis.runout_max)
        return Misfit{
            HeldCode::missing,
            "without a pilot the seat's runout limit must be given, to judge whether the spindle alone "
            "keeps it",
            std::string("seat.") + job::kind_word(axis.kind) + ".runout_max"};
    const double runout = runout_without_pilot(axis);
    if (runout <= *axis.runout_max) return std::nullopt;
    return Misfit{
        HeldCode::no_pilot,
        fmt::format("without a pilot the guide's place and the plumb error allow a runout of {}, over "
                    "the limit of {}",
                    length_words(runout, unit), length_words(*axis.runout_max, unit)),
        "another touch of this guide, or [cut] pilot = \"carried\""};
}

}  // namespace seatwright::cut
