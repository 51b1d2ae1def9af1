#include "seatwright/cut/routes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/cut/files.hpp"
#include "seatwright/cut/program.hpp"
#include "seatwright/cut/program_words.hpp"
#include "seatwright/shape/zero.hpp"

namespace seatwright::cut {

namespace {

// A length that somebody looks at is said to this, mm.
constexpr double seen_to = 0.1;

void zero(Route& route, const ReadyForm& form) {
    const auto there = std::any_of(route.zeros.begin(), route.zeros.end(), [&](const CutterZero& zero) {
        return zero.cutter == form.form.tool.number;
    });
    if (!there) {
        CutterZero taken;
        taken.cutter = form.form.tool.number;
        taken.taken = form.zero;
        taken.trim = shift_of(form);
        taken.pilot = form.zero_pilot.pilot;
        route.zeros.push_back(std::move(taken));
    }
    if (!form.restart.empty()) route.restart = form.restart;
}

void touched_last(Route& route, const Portion& portion) {
    const shape::Zero& zero = portion.form->zero;
    route.touched_last = route.touched_last || (zero.on == shape::ZeroOn::old_seat && zero.valve &&
                                                route.stops.back().valve == *zero.valve);
}

// `less`: how much above its plan it ends.
ShallRead shall_read(const job::Job& job, const std::string& head, const ReadySeat& seat, double less) {
    if (seat.depth_known) return {ShallRead::By::depth, seat.depth - less};
    const job::Valve& valve = job.head.valves.at(seat.valve);
    const auto planned = shape::first_planned(job, head, valve, {seat.depth, seat.stop, false}, less);
    const auto& form = job.seat[valve.kind];
    const bool by_deck = form && form->finish && form->finish->below_deck && planned.below_deck;
    if (const auto stem = shape::shall_read(planned, job::FirstFigure::stem_height); stem && !by_deck)
        return {ShallRead::By::stem_height, *stem};
    if (const auto below = shape::shall_read(planned, job::FirstFigure::below_deck))
        return {ShallRead::By::below_deck, *below};
    return {ShallRead::By::nothing, 0};
}

const Stop* first_stop(const Route& route, int cutter) {
    const auto at = std::find_if(route.stops.begin(), route.stops.end(),
                                 [&](const Stop& stop) { return stop.tool.number == cutter; });
    return at == route.stops.end() ? nullptr : &*at;
}

}  // namespace

Vec2 RouteMaker::place_of(std::size_t setup, std::size_t valve) const {
    const auto* found = found_setup(known_.find, known_.shape.head, known_.hold.setups[setup].id);
    if (found != nullptr && any_touched(*found))
        for (const find::FoundGuide& guide : found->guides)
            if (guide.valve == valve) return guide.programmed;
    return held_at(known_.hold, valve).held->readout;
}

Stop RouteMaker::stop_of(const ReadyForm& form, const ReadySeat& seat, double less) const {
    const SeatCut& cut = plan_.seats[seat.seat];
    Stop stop;
    stop.valve = seat.valve;
    stop.id = id(seat.valve);
    stop.at = place_of(form.form.setup, seat.valve);
    stop.tool = form.form.tool;
    stop.pilot = seat.pilot;
    stop.z = shape::stop_z(seat.map_z, seat.stop, form.zero.zeta) + shift_of(form) + less;
    stop.depth = seat.depth - less;
    stop.short_cut = less > 0;
    stop.reads = shall_read(job_, known_.shape.head, seat, less);
    stop.rpm = cut.rpm;
    if (seat.use == job::PilotUse::live) stop.entry_rpm = job_.cut.entry_rpm.value_or(0);
    stop.feed = cut.rpm * cut.feed / 60;
    stop.finish_feed = cut.rpm * cut.finish_feed / 60;
    stop.dwell_seconds = cut.dwell_turns * 60 / cut.rpm;
    set_heights(job_, stop, seat.below, seat.approach, stop.depth);
    return stop;
}

Route RouteMaker::begin(std::size_t setup, job::PilotUse use) const {
    Route route;
    route.setup = setup;
    route.head = known_.shape.head;
    const auto* found = found_setup(known_.find, route.head, known_.hold.setups[setup].id);
    route.from_touches = found != nullptr && any_touched(*found);
    if (route.from_touches) route.datum_at = datum_at(known_.hold.setups[setup], *found);
    route.pilot = use;
    route.draft = selection_.writes == job::Writes::draft;
    route.only = selection_.only;
    route.from = selection_.from;
    route.digest = selection_.digest;
    route.date = newest_date(job_, route.head);
    for (const hold::Held& held : known_.hold.setups[setup].valves)
        if (gate_.holds(held.valve)) route.held_back.push_back(id(held.valve));
    return route;
}

void RouteMaker::all_of(Route& route, const Portion& portion) const {
    zero(route, *portion.form);
    for (const ReadySeat* seat : portion.seats) route.stops.push_back(stop_of(*portion.form, *seat, 0));
    touched_last(route, portion);
}

// A cut too thin to be shortened is measured at its whole depth.
void RouteMaker::short_first(Route& route, const Portion& portion) const {
    if (!portion.has_first()) return;
    zero(route, *portion.form);
    route.stops.push_back(stop_of(*portion.form, *portion.seats.front(), portion.form->first.short_by));
}

void RouteMaker::after_first(Route& route, const Portion& portion) const {
    zero(route, *portion.form);
    for (const ReadySeat* seat : portion.seats)
        if (seat != &portion.form->seats.front() || portion.form->first.short_by > 0)
            route.stops.push_back(stop_of(*portion.form, *seat, 0));
    touched_last(route, portion);
}

// The first seat to its depth, unless it went there already, and the others.
void RouteMaker::rest_of(Route& route, const Portion& portion) const {
    const FirstInForm& first = portion.form->first;
    const std::size_t from = route.stops.size();
    bool any = false;
    for (const ReadySeat* seat : portion.seats) {
        const bool is_first = seat == &portion.form->seats.front();
        if (is_first && first.measured && first.measured->depth >= seat->depth - written_tolerance(job_))
            continue;
        if (!any) zero(route, *portion.form);
        any = true;
        route.stops.push_back(stop_of(*portion.form, *seat, 0));
    }
    if (!any) return;
    // Cut short in the first file for want of another; Z0 can be checked on it till it is finished.
    const shape::Zero& taken = portion.form->zero;
    if (taken.on == shape::ZeroOn::old_seat && route.stops[from].valve == taken.valve)
        std::rotate(route.stops.begin() + static_cast<std::ptrdiff_t>(from),
                    route.stops.begin() + static_cast<std::ptrdiff_t>(from) + 1, route.stops.end());
    touched_last(route, portion);
}

void RouteMaker::finish(Route& route, const Route& whole, const std::vector<Portion>& portions) const {
    if (route.stops.empty()) return;
    route.clear = &route == &whole ? clear_of(route, portions) : whole.clear;
    for (const Stop& stop : route.stops) route.clear = std::max(route.clear, std::ceil(stop.over_mouth));
    pilots_at_start(route, portions);
    for (CutterZero& zero : route.zeros) zero.look = look_of(route, zero);
}

double RouteMaker::clear_of(const Route& route, const std::vector<Portion>& portions) const {
    const hold::Setup& setup = known_.hold.setups[route.setup];
    double tip = 0, zeta = portions.front().form->zero.zeta, over_planted = 0;
    for (const Portion& portion : portions) {
        const ReadyForm& form = *portion.form;
        const double lowest = job_.cutters.at(form.form.tool.cutter).lowest.value_or(0);
        zeta = std::min(zeta, form.zero.zeta);
        tip = std::max(tip, form.zero_pilot.tip);
        // The way up from where Z0 was taken passes over the pilot planted there.
        if (form.zero_pilot.top)
            over_planted =
                std::max(over_planted, *form.zero_pilot.top + lowest + over_mouth_gap - form.zero.zeta);
        for (const ReadySeat* seat : portion.seats) {
            tip = std::max(tip, seat->below.tip);
            if (seat->use == job::PilotUse::planted)
                over_planted = std::max(over_planted,
                                        seat->map_z + seat->stop + seat->below.over_mouth - form.zero.zeta);
        }
    }
    return std::max(clear_height(job_, setup, route.stops, tip, zeta), std::ceil(over_planted));
}

// What stood for Z0 is still in the tool where the cutter has one pilot for all its seats, or nothing was
// done since: neither a file before this one nor another cutter that needs the same piece.
void RouteMaker::pilots_at_start(Route& route, const std::vector<Portion>& portions) const {
    const bool in_tool = route.pilot == job::PilotUse::carried || route.pilot == job::PilotUse::live;
    for (CutterZero& zero : route.zeros) {
        const auto portion = std::find_if(portions.begin(), portions.end(), [&](const Portion& p) {
            return p.form->form.tool.number == zero.cutter;
        });
        if (!in_tool || !zero.pilot || portion == portions.end()) continue;
        const auto& seats = portion->form->seats;
        const bool only_one = std::all_of(seats.begin(), seats.end(),
                                          [&](const ReadySeat& seat) { return seat.pilot == zero.pilot; });
        const bool fresh = portion->has_first() && route.part != FilePart::rest;
        const auto holders = std::count_if(route.zeros.begin(), route.zeros.end(),
                                           [&](const CutterZero& z) { return z.pilot == zero.pilot; });
        const auto& count = job_.pilots.at(*zero.pilot).count;
        zero.pilot_stands = (only_one || fresh) && (!count || holders <= *count);
    }
}

// How high the tool stands over the deck where Z0 was taken, once it is at the clear height.
std::string RouteMaker::look_of(const Route& route, const CutterZero& zero) const {
    const hold::Setup& setup = known_.hold.setups[route.setup];
    const job::Valve& datum = job_.head.valves.at(setup.datum);
    const Stop* first = first_stop(route, zero.cutter);
    if (first == nullptr) return {};
    Vec3 deck;
    std::string where;
    if (zero.taken.valve) {
        const job::Valve& valve = job_.head.valves.at(*zero.taken.valve);
        const Vec3 axis = valve.axis();
        const double up = -(valve.seat.z() + job_.depth.deck_cut) / axis.z();
        deck = setup.rotation() * (valve.seat + up * axis - datum.seat);
        where = "at " + valve.id;
    } else {
        const Vec2 at = job_.depth.deck_at.value_or(Vec2(datum.seat.head<2>()));
        deck = shape::deck_place(setup.rotation(), datum.seat, at, job_.depth.deck_cut);
        where = "where Z0 was taken";
    }
    const double tip = tip_below(job_, route.pilot, first->pilot, first->tool.cutter);
    const double gap = route.clear - tip - (deck.z() - zero.taken.zeta);
    if (!(gap > 0)) return {};
    const bool pilot = route.pilot == job::PilotUse::carried || route.pilot == job::PilotUse::live;
    return fmt::format("{} stands {} over the deck {}", pilot ? "the tip" : "the cutter's lowest edge",
                       said(job_, std::round(gap / seen_to) * seen_to), where);
}

}  // namespace seatwright::cut
