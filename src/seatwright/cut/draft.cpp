#include "seatwright/cut/draft.hpp"

#include <algorithm>

#include "seatwright/base/fault.hpp"
#include "seatwright/shape/rest.hpp"
#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {

namespace {

// Of the shelf's cutters the one that comes nearest to that kind's form, else any.
std::optional<std::size_t> nearest_cutter(const job::Job& job, const shape::Shape& shape, job::Kind kind) {
    for (const shape::Seat& seat : shape.seats)
        if (seat.cutter && job.head.valves.at(seat.valve).kind == kind) return seat.cutter;
    for (const shape::NearMiss& miss : shape.near_misses)
        if (miss.kind == kind) return miss.cutter;
    return job.cutters.empty() ? std::nullopt : std::optional<std::size_t>(0);
}

}  // namespace

shape::Shape drafted(const job::Job& job, shape::Shape shape) {
    const shape::Shape as_planned = shape;
    for (shape::Seat& seat : shape.seats) {
        if (seat.section.points.size() < 2) continue;
        if (!seat.cutter) {
            seat.cutter = nearest_cutter(job, as_planned, job.head.valves.at(seat.valve).kind);
            seat.blade_setting = seat.section.gauge;
        }
        if (!seat.cutter) continue;
        seat.decision = shape::Decision::cut;
        if (!seat.stop_s && !seat.depth)
            seat.stop_s = -seat.height.recession.value_or(0) - seat.depth_low.value_or(0);
    }
    return shape;
}

shape::Zero drafted_zero(const Known& known, const FormInSetup& form, const Sentence& why) {
    require(!form.planned.empty(), "a form that is written has a seat");
    const shape::Seat& seat = known.shape.seats.at(form.planned.front());
    const hold::Held& held = *held_at(known.hold, seat.valve).held;
    shape::Zero zero;
    zero.valve = seat.valve;
    zero.at = held.readout;
    zero.rest = seat.rest;
    zero.zeta = held.map.z() - heights_of(known, seat).recession.value_or(0) + seat.rest.value_or(0);
    zero.words = sentence<"zero-not-settled">("why"_is = why);
    return zero;
}

ReadySeat drafted_seat(const Known& known, const FormInSetup& form, ReadySeat seat) {
    const double lowest = known.job.cutters.at(form.tool.cutter)
                              .lowest.value_or(shape::lowest_of(known.shape.seats[seat.shaped].section));
    seat.use = job::PilotUse::none;
    seat.below = {lowest, std::max(0.0, seat.depth) + lowest + over_mouth_gap};
    return seat;
}

}  // namespace seatwright::cut
