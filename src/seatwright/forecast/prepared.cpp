#include "seatwright/forecast/prepared.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/units.hpp"
#include "seatwright/cut/known.hpp"
#include "seatwright/find/pilots.hpp"
#include "seatwright/forecast/causes.hpp"
#include "seatwright/forecast/record.hpp"
#include "seatwright/shape/cutter.hpp"
#include "seatwright/words/english_forecast.hpp"

namespace seatwright::forecast {
namespace {

constexpr double loosest = 0.25;  // mm of play at the seat: a pilot for another guide

// Where neither the key nor levels on record say how guides stray in direction, runouts measured do: what
// the other causes do not explain of them is put down to it.
void fit_guide_direction(Collected& collected, const job::Job& job, const plan::Plan& plan,
                         const prove::Proof& proof, const Frame& frame) {
    const auto at = std::find_if(collected.inputs.begin(), collected.inputs.end(),
                                 [](const Input& input) { return input.what == "forecast.guide_angle_sd"; });
    if (at == collected.inputs.end() || at->from != From::practice) return;
    const auto square = read_record(job, plan, proof).runout_square;
    if (!square) return;
    Known without = collected.known, unit = collected.known;
    without.guide_angle_sd = 0;
    unit.guide_angle_sd = rad(1);
    const double rest = runout_square(batch_of(job, frame, without), frame);
    const double of_one = runout_square(batch_of(job, frame, unit), frame) - rest;
    if (!(of_one > 0)) return;
    const double degrees = std::sqrt(std::max(0.0, square->value - rest) / of_one);
    // Seats of a head share its attitude: with a part a of the mean square its scatter is that of
    // 2/(a²/heads + (1 − a²)/seats) squares.
    Known upright = collected.known;
    upright.level_sd = 0;
    const double attitude = square->value > 0
                                ? std::clamp((runout_square(batch_of(job, frame, collected.known), frame) -
                                              runout_square(batch_of(job, frame, upright), frame)) /
                                                 square->value,
                                             0.0, 1.0)
                                : 0;
    const double dof = 2 / (attitude * attitude / std::max(1, square->heads) +
                            (1 - attitude * attitude) / std::max(1.0, square->dof));
    at->less = std::min(rest, square->value) / of_one * rad(1) * rad(1);
    collected.known.guide_angle_sd = rad(degrees);
    at->value = degrees;
    at->from = From::record;
    at->dof = std::max(2.0, dof);
    collected.notices.assumptions.emplace_back(sentence<"guide-directions">());
}

// None where it does not suit every guide of the kind.
std::optional<PilotOffer> offer_of(const job::Job& job, const Frame& frame,
                                   const std::vector<find::PilotChoice>& choices, job::Kind kind,
                                   std::size_t p, job::Job& alone) {
    PilotOffer offer;
    offer.kind = kind;
    offer.pilot = p;
    offer.same = true;
    alone.pilots = {job.pilots[p]};
    for (std::size_t i = 0; i < frame.seats.size(); ++i) {
        const SeatFrame& one = frame.seats[i];
        if (one.seat.kind != kind) continue;
        const std::size_t valve = one.seat.valve;
        if (valve >= choices.size() || !choices[valve].pilot) return std::nullopt;
        const auto& name = job.pilots[*choices[valve].pilot].name;
        if (offer.from.find(name) == std::string::npos) offer.from += (offer.from.empty() ? "" : ", ") + name;
        if (*choices[valve].pilot == p) continue;
        offer.same = false;
        const job::GuideBore* read = nullptr;
        for (const job::GuideBore& bore : job.readings.guides)
            if (bore.valve == job.head.valves[valve].id) read = &bore;
        const auto choice = find::choose_pilot(alone, valve, read);
        if (!choice.pilot || choice.play.value_or(0) > loosest) return std::nullopt;
        SeatFrame led = one;
        lead_by(alone, valve, choice, led);
        led.pilot = p;
        offer.seats.emplace_back(i, std::move(led));
    }
    if (offer.from.empty()) return std::nullopt;
    return offer;
}

std::vector<PilotOffer> offers_of(const job::Job& job, const plan::Plan& plan, const Frame& frame) {
    std::vector<PilotOffer> out;
    const auto choices = find::pilots_of(job, plan.find, plan.shape.head);
    // A job with one pilot on its shelf; the record is nothing to a pilot.
    job::Job alone = job;
    alone.readings = {};
    for (const auto kind : job::both_kinds)
        for (std::size_t p = 0; p < job.pilots.size(); ++p)
            if (auto offer = offer_of(job, frame, choices, kind, p, alone)) out.push_back(std::move(*offer));
    return out;
}

std::vector<CutterOffer> cutters_of(const job::Job& job, const plan::Plan& plan, const Known& known) {
    std::vector<CutterOffer> out;
    job::Job alone = job;
    alone.readings = {};
    alone.allow.clear();
    for (const auto kind : job::both_kinds) {
        std::optional<std::size_t> now;
        for (const shape::Seat& seat : plan.shape.seats)
            if (job.head.valves[seat.valve].kind == kind && seat.cutter) now = seat.cutter;
        if (!now) continue;
        for (std::size_t c = 0; c < job.cutters.size(); ++c) {
            if (c == *now) continue;
            alone.cutters = {job.cutters[c]};
            const auto choice = shape::choose_cutter(alone, kind);
            if (!choice.cutter) continue;
            const Recut recut{kind, c, choice.cut_width};
            out.push_back({recut, job.cutters[*now].name, frame_of(job, plan, known, {recut})});
        }
    }
    return out;
}

void say_tried(Prepared& out, const char* what, double value, const char* unit) {
    auto& inputs = out.collected.inputs;
    const auto at =
        std::find_if(inputs.begin(), inputs.end(), [&](const Input& i) { return i.what == what; });
    if (at == inputs.end()) {
        inputs.push_back({what, value, unit, From::job});
        return;
    }
    at->value = value;
    at->from = From::job;
    at->dof = std::nullopt;
}

}  // namespace

Prepared prepared(const job::Job& job, const plan::Plan& plan, const prove::Proof& proof) {
    Prepared out;
    out.collected = collect(job, plan, proof);
    out.frame = frame_of(job, plan, out.collected.known);
    fit_guide_direction(out.collected, job, plan, proof, out.frame);
    out.offers = offers_of(job, plan, out.frame);
    out.cutters = cutters_of(job, plan, out.collected.known);
    for (const SetupFrame& setup : out.frame.setups)
        out.most_touches = std::max(out.most_touches, setup.seats.size());
    return out;
}

Prepared with(const job::Job& job, const plan::Plan& plan, const Prepared& as_it_is, const Tried& tried) {
    Prepared out = as_it_is;
    Known& known = out.collected.known;
    if (tried.post_clearance) {
        known.post_clearance = *tried.post_clearance;
        say_tried(out, "post clearance", known.post_clearance, "mm");
    }
    if (tried.touches) {
        known.touches_planned = false;
        known.touches = *tried.touches;
        say_tried(out, "forecast.touches", known.touches, "guides a setup");
    }
    if (tried.heads) {
        known.heads = *tried.heads;
        say_tried(out, "forecast.heads", known.heads, "heads");
    }
    if (tried.change_every) {
        known.change_every = std::nullopt;
        if (*tried.change_every > 0) {
            known.change_every = tried.change_every;
            say_tried(out, "forecast.change_every", *tried.change_every, "heads");
        } else {
            std::erase_if(out.collected.inputs,
                          [](const Input& input) { return input.what == "forecast.change_every"; });
        }
    }
    std::vector<Recut> recuts;
    for (const CutterOffer& offer : as_it_is.cutters)
        if (const auto at = tried.cutter.find(offer.recut.kind);
            at != tried.cutter.end() && at->second == offer.recut.cutter)
            recuts.push_back(offer.recut);
    if (!recuts.empty()) out.frame = frame_of(job, plan, known, recuts);
    for (const auto& [quantity, gauge] : tried.gauge)
        if (const auto u = shelf_u(job.gauges[gauge], quantity)) {
            known.*figure_of(quantity) = u;
            known.gauge_names[static_cast<std::size_t>(quantity)] = job.gauges[gauge].name;
            say_tried(out, key_of(quantity), *u, "mm");
        }
    for (const PilotOffer& offer : as_it_is.offers)
        if (const auto at = tried.pilot.find(offer.kind);
            at != tried.pilot.end() && at->second == offer.pilot)
            out.frame = led_by(out.frame, offer);
    return out;
}

Frame led_by(const Frame& frame, const PilotOffer& offer) {
    Frame out = frame;
    for (const auto& [i, led] : offer.seats) {
        SeatFrame& one = out.seats[i];
        one.pilot = led.pilot;
        one.pilot_turns = led.pilot_turns;
        one.seat.room = led.seat.room;
        one.seat.play = led.seat.play;
        one.seat.bend = led.seat.bend;
        one.seat.bend_slope = led.seat.bend_slope;
    }
    return out;
}

}  // namespace seatwright::forecast
