#include "seatwright/cut/zeros.hpp"

#include <algorithm>

#include "seatwright/shape/before.hpp"

namespace seatwright::cut {

namespace {

// A plan of part of a head is made when some of its seats are cut already.
bool already_cut(const Known& known, const std::string& id) {
    const auto of_seat = [&](const auto& reading) {
        return reading.head == known.shape.head && reading.valve == id;
    };
    const auto& readings = known.job.readings;
    return std::any_of(readings.proofs.begin(), readings.proofs.end(), of_seat) ||
           std::any_of(readings.firsts.begin(), readings.firsts.end(), of_seat);
}

shape::ZeroDeck deck_of(const Known& known, const hold::Setup& setup, const Tool& tool) {
    const job::Job& job = known.job;
    shape::ZeroDeck deck;
    deck.at = job.depth.deck_at;
    deck.deck_cut = job.depth.deck_cut;
    deck.rotation = setup.rotation();
    deck.datum = job.head.valves.at(setup.datum).seat;
    deck.x_sign = job.machine.x_sign;
    deck.y_sign = job.machine.y_sign;
    deck.ball = job.machine.ball;
    deck.block = job.depth.block;
    deck.lowest = job.cutters.at(tool.cutter).lowest;
    for (const Vec2& hole : job.head.bolt_holes)
        deck.holes.push_back({"a bolt hole", hole, job.head.bolt_hole_diameter.value_or(0)});
    for (const job::Obstacle& obstacle : job.head.obstacles) {
        const Vec3 axis = obstacle.axis();
        const Vec2 on_deck = (obstacle.centre - axis * (obstacle.centre.z() / axis.z())).head<2>();
        deck.holes.push_back({obstacle.name, on_deck, obstacle.diameter});
    }
    return deck;
}

}  // namespace

SeatHeights heights_of(const Known& known, const shape::Seat& seat) {
    SeatHeights out;
    out.recession =
        shape::reading_of(known.job, known.shape.head, known.job.head.valves.at(seat.valve).id).recession;
    if (seat.depth) out.stop = -out.recession.value_or(0) - *seat.depth;
    return out;
}

shape::ZeroTask zero_task(const Known& known, const FormInSetup& form, const job::Selection& selection) {
    const job::Job& job = known.job;
    const hold::Setup& setup = known.hold.setups.at(form.setup);
    shape::ZeroTask task;
    task.head = known.shape.head;
    task.setup = setup.id;
    task.cutter = job.cutters.at(form.tool.cutter).name;
    task.number = form.tool.number;
    task.from = job.depth.from;
    task.to = job.depth.to;
    task.kept = job.machine.zero;
    if (job.depth.from == job::DepthFrom::datum)
        task.named = setup.datum;
    else if (job.depth.zero_on)
        task.named = job.head.index_of(*job.depth.zero_on);
    task.feeler = job.depth.feeler;
    for (const std::size_t s : form.all) {
        const shape::Seat& shaped = known.shape.seats[s];
        const hold::Held& held = *held_at(known.hold, shaped.valve).held;
        const job::Valve& valve = job.head.valves.at(shaped.valve);
        shape::ZeroSeat seat;
        seat.valve = shaped.valve;
        seat.id = valve.id;
        seat.map = held.map;
        seat.readout = held.readout;
        const SeatHeights heights = heights_of(known, shaped);
        seat.recession = heights.recession;
        seat.rest = heights.rest;
        seat.angle = job.seat[valve.kind] ? job.seat[valve.kind]->angle : seat.angle;
        seat.planned = std::find(form.planned.begin(), form.planned.end(), s) != form.planned.end();
        // A ring's flat is two corners: there is no old face to rest on.
        seat.has_old_seat = shaped.worn.size() != 2;
        seat.already_cut = !selection.whole() && already_cut(known, valve.id);
        task.seats.push_back(std::move(seat));
    }
    task.deck = deck_of(known, setup, form.tool);
    task.unit = job.units;
    return task;
}

}  // namespace seatwright::cut
