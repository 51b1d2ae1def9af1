#include "seatwright/find/pilots.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "seatwright/find/found_head.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/words/english_find.hpp"

namespace seatwright::find {
namespace {

// Taken where the job names no bell-mouth limit and only the shape is wanted; common practice 0.001 in.
constexpr double usual_bell_limit = 0.0254;

const job::GuideForm* form_of(const job::Job& job, std::size_t valve) {
    const auto& form = job.guide[job.head.valves[valve].kind];
    return form ? &*form : nullptr;
}

// Largest pilot not above the drawing bore.
void assume_pilot(const job::Job& job, const job::GuideForm* form, PilotChoice& choice) {
    if (!form || !form->bore) {
        choice.reason = sentence<"not-read-no-bore">();
        return;
    }
    for (std::size_t p = 0; p < job.pilots.size(); ++p) {
        const double d = job.pilots[p].diameter;
        if (d > *form->bore + size_tolerance) continue;
        if (!choice.pilot || d > job.pilots[*choice.pilot].diameter + size_tolerance) choice.pilot = p;
    }
    if (!choice.pilot) {
        choice.reason = sentence<"not-read-no-pilot">();
        return;
    }
    choice.reason = sentence<"not-read-assumed">();
    job::GuideBore drawn;
    drawn.top = drawn.middle = drawn.bottom = *form->bore;
    const Fit fit = fit_pilot(job.pilots[*choice.pilot], drawn, form->length);
    choice.lock_depth = fit.lock_depth;
    if (fit.lock_depth)
        choice.play = 0;
    else if (form->length && form->to_seat)
        choice.play = fit.clearance * (0.5 + *form->to_seat / *form->length);
}

Sentence shape_words(BoreShape shape) {
    switch (shape) {
        case BoreShape::bell_top:
            return sentence<"bell-top">();
        case BoreShape::bell_bottom:
            return sentence<"bell-bottom">();
        case BoreShape::hourglass:
            return sentence<"hourglass">();
        case BoreShape::barrel:
            return sentence<"barrel">();
        case BoreShape::tapered:
            return sentence<"tapered">();
        case BoreShape::straight:
            break;
    }
    return sentence<"straight">();
}

// Why the guide must be repaired before seats are cut; empty when it need not.
Sentence repair_reason(const job::GuideForm& form, const job::GuideBore& read) {
    const double widest = std::max({read.top, read.middle, read.bottom});
    std::vector<Sentence> why;
    if (form.bore_max && widest > *form.bore_max + size_tolerance)
        why.push_back(
            sentence<"bore-beyond">("bore"_is = as_length(widest), "limit"_is = as_length(*form.bore_max)));
    const double bell = bell_mouth(read);
    if (form.bell_max && bell > *form.bell_max + size_tolerance)
        why.push_back(sentence<"bell-mouth">("shape"_is = shape_words(bore_shape(read, *form.bell_max)),
                                             "over"_is = as_length(bell),
                                             "limit"_is = as_length(*form.bell_max)));
    return why.empty() ? Sentence() : clauses(std::move(why));
}

}  // namespace

double bell_mouth(const job::GuideBore& read) {
    return std::max({0.0, read.top - read.middle, read.bottom - read.middle});
}

BoreShape bore_shape(const job::GuideBore& read, double limit) {
    const double top = read.top - read.middle, bottom = read.bottom - read.middle;
    if (top > limit && bottom > limit) return BoreShape::hourglass;
    // One end just inside the limit and the other beyond it is still an hourglass, not a bell-mouth.
    if (std::max(top, bottom) > limit && std::min(top, bottom) > 0.5 * limit) return BoreShape::hourglass;
    if (top < -limit && bottom < -limit) return BoreShape::barrel;
    if (std::abs(top - bottom) > limit && top * bottom < 0 &&
        std::min(std::abs(top), std::abs(bottom)) > 0.5 * limit)
        return BoreShape::tapered;
    if (top > limit) return BoreShape::bell_top;
    if (bottom > limit) return BoreShape::bell_bottom;
    return BoreShape::straight;
}

Fit fit_pilot(const job::Pilot& pilot, const job::GuideBore& read, std::optional<double> length) {
    Fit fit;
    const double least = std::min({read.top, read.middle, read.bottom});
    fit.clearance = least - pilot.diameter;
    const bool tapered = pilot.style == job::PilotStyle::tapered && pilot.taper > 0;
    if (!tapered || !length) {
        fit.suits = fit.clearance >= -size_tolerance;
        fit.clearance = std::max(0.0, fit.clearance);
        if (tapered && fit.suits) fit.clearance = 0;  // it locks, where cannot be said without the length
        return fit;
    }
    const std::array<double, 3> depth{0, 0.5 * *length, *length}, bore{read.top, read.middle, read.bottom};
    double rest = 0, held = 0;
    for (std::size_t i = 0; i < depth.size(); ++i) {
        const double g = depth[i] + (bore[i] - pilot.diameter) / pilot.taper;
        if (i == 0 || g < rest) {
            rest = g;
            held = depth[i];
        }
    }
    const double slack = size_tolerance / pilot.taper;
    fit.suits = rest >= -slack && rest <= *length + slack;
    if (fit.suits) {
        fit.clearance = 0;
        fit.lock_depth = std::max(0.0, rest);
        fit.held_at = held;
    }
    return fit;
}

PilotChoice choose_pilot(const job::Job& job, std::size_t valve, const job::GuideBore* read) {
    PilotChoice choice;
    choice.valve = valve;
    const job::GuideForm* form = form_of(job, valve);
    if (!read) {
        assume_pilot(job, form, choice);
        return choice;
    }
    const auto length = form ? form->length : std::nullopt;
    Fit chosen;
    for (std::size_t p = 0; p < job.pilots.size(); ++p) {
        const Fit fit = fit_pilot(job.pilots[p], *read, length);
        if (!fit.suits) continue;
        if (choice.pilot && job.pilots[p].diameter <= job.pilots[*choice.pilot].diameter + size_tolerance)
            continue;
        choice.pilot = p;
        chosen = fit;
    }
    if (choice.pilot) {
        const bool locks = job.pilots[*choice.pilot].style == job::PilotStyle::tapered &&
                           job.pilots[*choice.pilot].taper > 0;
        choice.lock_depth = chosen.lock_depth;
        if (locks)
            choice.play = 0;
        else if (length && form->to_seat)
            choice.play = chosen.clearance * (0.5 + *form->to_seat / *length);
        if (locks && chosen.lock_depth)
            choice.reason = sentence<"gauge-line">("below"_is = as_depth(*chosen.lock_depth),
                                                   "held"_is = as_depth(*chosen.held_at));
        else if (locks)
            choice.reason = sentence<"locks-no-length">();
        else
            choice.reason = sentence<"clearance">("clearance"_is = as_length(chosen.clearance));
    } else {
        choice.reason = sentence<"no-pilot-fits">();
    }
    if (form) {
        const Sentence why = repair_reason(*form, *read);
        if (!why.empty()) {
            choice.repair = true;
            choice.reason = why;
            return choice;
        }
    }
    const double limit = form && form->bell_max ? *form->bell_max : usual_bell_limit;
    const BoreShape shape = bore_shape(*read, limit);
    if (shape != BoreShape::straight)
        choice.reason = clauses({choice.reason, sentence<"bore-shape">("shape"_is = shape_words(shape))});
    return choice;
}

PilotChoice pilot_of(const job::Job& job, const Find& find, const std::string& head, std::size_t valve) {
    if (const FoundHead* found = found_head(find, head); found != nullptr && !found->pilots.empty())
        return found->pilots.at(valve);
    const auto guides = job::of_head(job.readings.guides, head);
    const job::GuideBore* read = nullptr;
    for (const job::GuideBore& one : guides)
        if (one.valve == job.head.valves[valve].id) read = &one;
    return choose_pilot(job, valve, read);
}

std::vector<PilotChoice> pilots_of(const job::Job& job, const Find& find, const std::string& head) {
    std::vector<PilotChoice> out;
    out.reserve(job.head.valves.size());
    for (std::size_t v = 0; v < job.head.valves.size(); ++v) out.push_back(pilot_of(job, find, head, v));
    return out;
}

std::optional<double> entry_clearance(const job::Job& job, const PilotChoice& choice) {
    const job::GuideForm* form = form_of(job, choice.valve);
    if (!choice.pilot || !form || !form->mouth) return std::nullopt;
    return 0.5 * (*form->mouth - job.pilots[*choice.pilot].tip);
}

}  // namespace seatwright::find
