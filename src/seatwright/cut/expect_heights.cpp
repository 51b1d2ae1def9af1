#include "seatwright/cut/expect_heights.hpp"
#include "seatwright/job/allowance.hpp"
#include "seatwright/job/of_head.hpp"

#include <algorithm>
#include <cmath>

namespace seatwright::cut {

namespace {

// No seat is cut so far below its old height, whatever its limits leave out (judgement; more than 1 mm is
// asked about).
constexpr double deepest_cut = 5;
// Cosine squared of 5 deg: on a steeper guide a rod square to the deck says nothing of the seat (model.md).
constexpr double least_axis_squared = 0.992;

double axis_z(const job::Valve& valve) {
    return 1 / std::hypot(std::tan(valve.cant), std::tan(valve.incline), 1.0);
}

// ρ by the reading that says it outright (working.md, B4); a later reading goes before an earlier one.
std::optional<double> recession_read(const job::Job& job, const job::Valve& valve, const std::string& head) {
    const auto& form = job.seat[valve.kind];
    std::optional<double> recession, below;
    double cut_before = 0;
    bool rest = false;
    for (const job::SeatBefore& reading : job::of_head(job.readings.seats, head)) {
        if (reading.valve != valve.id) continue;
        rest = rest || reading.rest_z;
        if (reading.recession) recession = reading.recession;
        if (!reading.below_deck) continue;
        below = reading.below_deck;
        cut_before = reading.after_deck_cut ? job.depth.deck_cut : 0;
    }
    if (rest) return std::nullopt;  // goes before both, and hangs on where Z0 was
    if (recession) return recession;
    const double a = axis_z(valve);
    if (below && form && form->below_deck && a * a >= least_axis_squared)
        return (*below + cut_before - *form->below_deck) / a;
    return std::nullopt;
}

// f of a finished height (working.md, B3); a stem height read with the seat's own valve is not for this.
std::optional<double> finished_height(const job::Job& job, const job::Valve& valve) {
    const auto& form = job.seat[valve.kind];
    if (!form) return std::nullopt;
    std::optional<job::Finish> finish;
    if (job.depth.to == job::DepthTo::height) finish = form->finish;
    for (const job::SeatOrder& order : job.depth.seats)
        if (order.valve == valve.id) finish = order.finish;
    if (!finish) return std::nullopt;
    if (finish->recession) return finish->recession;
    if (finish->below_deck && form->below_deck)
        return (*finish->below_deck - *form->below_deck + job.depth.deck_cut) / axis_z(valve);
    return std::nullopt;
}

}  // namespace

void take_heights(ExpectedSeat& seat, const job::Job& job, const std::string& head) {
    const job::Valve& valve = job.head.valves.at(seat.valve);
    const auto& form = job.seat[valve.kind];
    seat.recession = recession_read(job, valve, head);
    seat.finished = finished_height(job, valve);
    seat.deepest = seat.recession.value_or(0) + deepest_cut;
    seat.below_finish_allowed = job::allowance_of(job, "below finish " + valve.id) != nullptr;
    if (form && form->recession_max)
        seat.deepest = std::min(seat.deepest, *form->recession_max + job.depth.deck_cut);
    if (seat.finished) seat.deepest = std::max(seat.deepest, *seat.finished);
}

std::optional<double> zero_height(const Expected& expected, const job::Job& job, const CutterZero& zero,
                                  const job::Cutter& cutter) {
    const shape::Zero& taken = zero.taken;
    const auto on_deck = [&](const Vec2& at) {
        const Vec3 b = expected.turn * (Vec3(at.x(), at.y(), -job.depth.deck_cut) - expected.datum);
        return b.z();
    };
    switch (taken.on) {
        case shape::ZeroOn::old_seat: {
            const ExpectedSeat* seat = taken.valve ? expected.seat(*taken.valve) : nullptr;
            if (!seat) return std::nullopt;
            const auto& form = job.seat[job.head.valves.at(seat->valve).kind];
            if (!form) return std::nullopt;
            return seat->m - seat->touched_at.value_or(0) + taken.rest.value_or(0) +
                   job.depth.feeler / std::cos(form->angle);
        }
        case shape::ZeroOn::finished_seat:
            return taken.zeta;
        case shape::ZeroOn::deck_point: {
            const double n_z = expected.turn(2, 2);
            if (!job.depth.deck_at || !job.machine.ball || !cutter.lowest || n_z <= 0) return std::nullopt;
            return on_deck(*job.depth.deck_at) + *job.machine.ball * (1 / n_z - 1) + *cutter.lowest;
        }
        case shape::ZeroOn::block:
            if (!job.depth.block || !cutter.lowest) return std::nullopt;
            return on_deck(expected.datum.head<2>()) + *job.depth.block + *cutter.lowest;
    }
    return std::nullopt;
}

Between stop_between(const ExpectedSeat& seat, double zero) {
    const double slack = 1e-9;
    Between out{seat.m - seat.deepest - zero - slack, seat.m + deepest_cut - zero};
    // A lead lets a seat pass whose finished height stands over its old face: the blade turns in air.
    if (seat.recession && !seat.below_finish_allowed) out.most = seat.m - *seat.recession - zero + slack;
    // A seat may go deeper than the finished height by a person's word, never less deep.
    if (seat.finished) out.most = std::min(out.most, seat.m - *seat.finished - zero + slack);
    return out;
}

std::optional<double> over_mouth(const ExpectedSeat& seat, const job::Job& job, const Route& route,
                                 const Stop& stop, double zero) {
    const auto& guide = job.guide[job.head.valves.at(seat.valve).kind];
    const job::Cutter& cutter = job.cutters.at(stop.tool.cutter);
    const job::PilotUse use = stop.pilot ? route.pilot : job::PilotUse::none;
    if (use == job::PilotUse::none)
        return cutter.lowest ? std::optional(stop.z + *cutter.lowest + over_mouth_gap) : std::nullopt;
    if (!guide || !guide->to_seat) return std::nullopt;
    const double mouth = seat.m - *guide->to_seat - zero;
    const job::Pilot& pilot = job.pilots.at(*stop.pilot);
    if (use == job::PilotUse::planted) {
        if (!pilot.above || !cutter.lowest) return std::nullopt;
        // Where it locks is not known here: nowhere above the guide's mouth.
        return stop.z + *cutter.lowest;
    }
    if (!pilot.reach || !cutter.drop) return std::nullopt;
    return mouth + (*pilot.reach - *cutter.drop) + over_mouth_gap;
}

std::optional<double> over_deck(const Expected& expected, const job::Job& job, const Route& route,
                                const Stop& stop, double z) {
    const CutterZero& zero = zero_of(route, stop.tool.number);
    const job::Cutter& cutter = job.cutters.at(stop.tool.cutter);
    const auto zeta = zero_height(expected, job, zero, cutter);
    std::optional<double> below = cutter.lowest;
    if (route.pilot == job::PilotUse::carried || route.pilot == job::PilotUse::live) {
        const auto reach = stop.pilot ? job.pilots.at(*stop.pilot).reach : std::nullopt;
        below = reach && cutter.drop ? std::optional(*reach - *cutter.drop) : std::nullopt;
    }
    if (!zeta || !below) return std::nullopt;
    Vec3 deck(expected.datum.x(), expected.datum.y(), -job.depth.deck_cut);
    if (zero.taken.valve) {
        // Where the guide's axis pierces the deck as cut.
        const job::Valve& valve = job.head.valves.at(*zero.taken.valve);
        const double up = -job.depth.deck_cut - valve.seat.z();
        deck.x() = valve.seat.x() + up * std::tan(valve.cant);
        deck.y() = valve.seat.y() + up * std::tan(valve.incline);
    } else if (job.depth.deck_at) {
        deck.head<2>() = *job.depth.deck_at;
    }
    return *zeta + z - *below - (expected.turn * (deck - expected.datum)).z();
}

}  // namespace seatwright::cut
