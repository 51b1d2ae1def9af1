#include "seatwright/cut/pilot_windows.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/words/english_cut.hpp"

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
    Judge(PilotUse use, const job::Pilot& pilot, const job::Cutter& cutter, const GuideAtStop& guide)
        : use_(use), pilot_(pilot), cutter_(cutter), guide_(guide) {
        stand_.use = use;
    }

    Stand judge() {
        if (const Sentence wrong = pairing_fault(use_, pilot_); !wrong.empty())
            return refuse(HeldCode::no_pilot, wrong, sentence<"another-pilot-use">());
        if (!in_bore()) return tl::unexpected(misfit_);
        misfit_.fits_bore = true;
        if (!figures_there()) return tl::unexpected(misfit_);
        stand_.to_guide = *guide_.form->to_seat + guide_.stop;
        const bool kept = use_ == PilotUse::planted ? planted() : carried();
        if (!kept) return tl::unexpected(misfit_);
        return stand_;
    }

  private:
    tl::unexpected<Misfit> refuse(HeldCode code, Sentence reason, Sentence frees) {
        note(code, std::move(reason), std::move(frees));
        return tl::unexpected(misfit_);
    }
    bool note(HeldCode code, Sentence reason, Sentence frees) {
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
    bool lacks(const std::string& key, const Sentence& what) {
        return note(HeldCode::missing,
                    sentence<"pilot-needs">("pilot"_is = pilot_.name, "what"_is = what, "key"_is = Key{key}),
                    the_key(key));
    }
    std::string guide_key(const char* key) const {
        return std::string("guide.") + job::kind_word(guide_.kind) + "." + key;
    }

    // Fits the readings, or, parallel, the drawing bore less a clearance.
    bool in_bore() {
        const auto& form = *guide_.form;
        misfit_.fits_bore = !(pilot_.diameter > 0);  // nothing says that it does not
        if (misfit_.fits_bore) return lacks("pilot.diameter", sentence<"needs-diameter">());
        if (guide_.read) {
            const find::Fit fit = find::fit_pilot(pilot_, *guide_.read, form.length);
            if (!fit.suits)
                return note(HeldCode::no_pilot, sentence<"pilot-does-not-fit">("pilot"_is = pilot_.name),
                            sentence<"fitting-pilot">());
            stand_.clearance = fit.clearance;
            stand_.lock = fit.lock_depth;
        } else if (wedges(pilot_)) {
            return note(HeldCode::no_pilot, sentence<"tapered-unread">(), sentence<"guide-reading">());
        } else if (!form.bore) {
            return note(HeldCode::missing, sentence<"unread-no-bore">(), the_key(guide_key("bore")));
        } else {
            stand_.clearance = *form.bore - pilot_.diameter;
            if (stand_.clearance < unread_clearance - find::size_tolerance)
                return note(HeldCode::no_pilot,
                            sentence<"pilot-too-near">("pilot"_is = pilot_.name,
                                                       "least"_is = as_length(unread_clearance)),
                            sentence<"pilot-too-near-frees">());
        }
        // Without its taper nobody knows how deep it goes; so much smaller it does not lock in any guide.
        if (wedges(pilot_) && !(pilot_.taper > 0) && stand_.clearance > most_clearance + find::size_tolerance)
            return too_small();
        return wedges(pilot_) || leads();
    }

    bool too_small() {
        return note(
            HeldCode::no_pilot,
            sentence<"pilot-too-small">("pilot"_is = pilot_.name, "by"_is = as_length(stand_.clearance)),
            sentence<"fitting-pilot">());
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
        return note(HeldCode::pilot_window,
                    sentence<"pilot-play">("pilot"_is = pilot_.name, "play"_is = as_length(*stand_.play),
                                           "runout"_is = as_length(runout),
                                           "limit"_is = as_length(*guide_.runout_max)),
                    sentence<"larger-pilot">());
    }

    bool figures_there() {
        const auto& form = *guide_.form;
        if (!form.to_seat) return lacks(guide_key("to_seat"), sentence<"needs-to-seat">());
        if (!form.length) return lacks(guide_key("length"), sentence<"needs-length">());
        if (wedges(pilot_) && !(pilot_.taper > 0)) return lacks("pilot.taper", sentence<"needs-taper">());
        if (use_ == PilotUse::planted) {
            if (!pilot_.above) return lacks("pilot.above", sentence<"needs-above">());
            if (!cutter_.lowest) return lacks("cutter.lowest", sentence<"needs-lowest">());
            if (!cutter_.bore_depth) return lacks("cutter.bore_depth", sentence<"needs-bore-depth">());
            return true;
        }
        if (!pilot_.reach) return lacks("pilot.reach", sentence<"needs-reach">());
        if (!cutter_.drop) return lacks("cutter.drop", sentence<"needs-drop">());
        if (!form.below) return lacks(guide_key("below"), sentence<"needs-below">());
        if (!wedges(pilot_)) return true;
        if (!pilot_.gauge_at) return lacks("pilot.gauge_at", sentence<"needs-gauge-at">());
        if (!pilot_.slide) return lacks("pilot.slide", sentence<"needs-slide">());
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
            return note(HeldCode::guide_room,
                        sentence<"tip-past">(
                            "pilot"_is = pilot_.name, "past"_is = as_depth(*stand_.tip_past_most),
                            "free"_is = as_depth(*guide_.form->below), "off"_is = as_depth(tip_off_floor)),
                        wedges(pilot_) ? sentence<"tip-past-frees-wedge">() : sentence<"tip-past-frees">());
        if (!leads)
            return note(
                HeldCode::pilot_window,
                sentence<"pilot-engaged">("pilot"_is = pilot_.name,
                                          "engaged"_is = as_depth(std::max(0.0, *stand_.engaged)),
                                          "least"_is = as_depth(least)),
                wedges(pilot_) ? sentence<"pilot-engaged-frees-wedge">() : sentence<"pilot-engaged-frees">());
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
            return note(HeldCode::pilot_window, sentence<"pilot-solid">("pilot"_is = pilot_.name),
                        sentence<"pilot-solid-frees">());
        if (late)
            return note(HeldCode::pilot_window,
                        sentence<"pilot-late">("pilot"_is = pilot_.name, "left"_is = as_depth(used - lock_u),
                                               "least"_is = as_depth(least)),
                        sentence<"pilot-late-frees">());
        if (solid)
            return note(
                HeldCode::pilot_window,
                sentence<"pilot-pushed">("pilot"_is = pilot_.name, "back"_is = as_depth(used + lock_u),
                                         "slide"_is = as_depth(*pilot_.slide)),
                sentence<"pilot-pushed-frees">());
        return true;
    }

    bool planted() {
        stand_.lock_u = 2 * bore_sd / pilot_.taper;
        stand_.top = *pilot_.above - stand_.to_guide - stand_.lock.value_or(0);
        stand_.top_most = *stand_.top + *stand_.lock_u;
        // Counted from the tool's lowest point, which at the stop stands so far under the gauge plane.
        const double swallowed = *stand_.top_most + *cutter_.lowest;
        if (fails_by(swallowed - *cutter_.bore_depth))
            return note(
                HeldCode::pilot_window,
                sentence<"pilot-swallowed">("pilot"_is = pilot_.name, "stands"_is = as_depth(swallowed),
                                            "bore"_is = as_depth(*cutter_.bore_depth)),
                sentence<"pilot-swallowed-frees">());
        return true;
    }

    PilotUse use_;
    const job::Pilot& pilot_;
    const job::Cutter& cutter_;
    const GuideAtStop& guide_;
    PilotStand stand_;
    Misfit misfit_;
};

}  // namespace

PilotUse use_of(const job::CutRules& rules, const job::Pilot& pilot) {
    if (rules.pilot) return *rules.pilot;
    return pilot.turns_with_tool ? PilotUse::live : PilotUse::carried;
}

Sentence pairing_fault(PilotUse use, const job::Pilot& pilot) {
    if (use == PilotUse::planted && !wedges(pilot))
        return sentence<"cannot-be-planted">("pilot"_is = pilot.name);
    if (use == PilotUse::live && wedges(pilot)) return sentence<"cannot-be-live">("pilot"_is = pilot.name);
    return {};
}

Stand stand_of(PilotUse use, const job::Pilot& pilot, const job::Cutter& cutter, const GuideAtStop& guide) {
    require(guide.form != nullptr, "a guide is judged by its drawing");
    return Judge(use, pilot, cutter, guide).judge();
}

double runout_without_pilot(const SpindleAxis& axis) {
    const double miss = 2 * axis.place_sd;
    return 2 * (miss * std::sin(axis.seat_angle) +
                0.5 * axis.gauge_diameter * axis.plumb_error * std::cos(axis.seat_angle));
}

std::optional<Misfit> without_pilot(const SpindleAxis& axis) {
    if (!axis.runout_max)
        return Misfit{HeldCode::missing, sentence<"no-pilot-no-limit">(),
                      the_key(std::string("seat.") + job::kind_word(axis.kind) + ".runout_max")};
    const double runout = runout_without_pilot(axis);
    if (runout <= *axis.runout_max) return std::nullopt;
    return Misfit{HeldCode::no_pilot,
                  sentence<"no-pilot-runout">("runout"_is = as_length(runout),
                                              "limit"_is = as_length(*axis.runout_max)),
                  sentence<"no-pilot-runout-frees">()};
}

}  // namespace seatwright::cut
