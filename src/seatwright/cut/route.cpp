#include "seatwright/cut/route.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"
#include "seatwright/shape/consequences.hpp"

namespace seatwright::cut {

namespace {

// A deck steeper than this to the spindle says nothing of heights beside the path; its edges are then used.
constexpr double least_deck_rise = 0.2;

double guide_length(const job::Job& job, job::Kind kind) {
    const auto& guide = job.guide[kind];
    return guide && guide->length ? *guide->length : usual_guide_length;
}

// The box of the stops in machine X, Y relative to the datum, grown by what a cutter passes over.
struct Box {
    Vec2 low, high;
    bool holds(const Vec2& p) const {
        return p.x() >= low.x() && p.x() <= high.x() && p.y() >= low.y() && p.y() <= high.y();
    }
};

Box box_of(const job::Job& job, const std::vector<Stop>& stops) {
    const Vec2 signs(job.machine.x_sign, job.machine.y_sign);
    Box box{signs.cwiseProduct(stops.front().at), signs.cwiseProduct(stops.front().at)};
    for (const Stop& stop : stops) {
        box.low = box.low.cwiseMin(signs.cwiseProduct(stop.at));
        box.high = box.high.cwiseMax(signs.cwiseProduct(stop.at));
    }
    box.low -= Vec2::Constant(beside_path);
    box.high += Vec2::Constant(beside_path);
    return box;
}

}  // namespace

double pilot_reach(const job::Job& job, job::Kind kind) {
    const auto& guide = job.guide[kind];
    const double to_seat = guide && guide->to_seat ? *guide->to_seat : usual_guide_to_seat;
    return to_seat + guide_length(job, kind);
}

double clear_height(const job::Job& job, const hold::Setup& setup, const std::vector<Stop>& stops) {
    require(!stops.empty(), "a route has a stop");
    const Mat3 turn = setup.rotation();
    const Vec3 datum = job.head.valves.at(setup.datum).seat;
    const Box box = box_of(job, stops);
    const double zero = shape::program_zero(job, setup);
    double highest = stops.front().z;
    double reach = 0;
    for (const Stop& stop : stops) {
        highest = std::max(highest, stop.cut_start);
        reach = std::max(reach, pilot_reach(job, job.head.valves.at(stop.valve).kind));
    }
    const auto count = [&](const Vec3& point) {
        const Vec3 held = turn * (point - datum);
        if (box.holds(held.head<2>())) highest = std::max(highest, held.z() - zero);
    };
    for (const job::Valve& valve : job.head.valves) count(valve.seat);
    for (const job::Obstacle& obstacle : job.head.obstacles) count(obstacle.centre);
    const Vec3 normal = turn.col(2);
    if (normal.z() > least_deck_rise) {
        // The deck plane over the four corners of the box.
        const Vec3 on_deck = turn * (Vec3(datum.x(), datum.y(), 0) - datum);
        for (const double x : {box.low.x(), box.high.x()})
            for (const double y : {box.low.y(), box.high.y()}) {
                const double aside = normal.x() * (x - on_deck.x()) + normal.y() * (y - on_deck.y());
                highest = std::max(highest, on_deck.z() - zero - aside / normal.z());
            }
    }
    for (const Vec2& hole : job.head.bolt_holes) count(Vec3(hole.x(), hole.y(), 0));
    // To whole millimetres, so that the number is one a person recognises.
    return std::ceil(highest + reach + clear_margin);
}

void set_heights(const job::Job& job, Stop& stop, double metal) {
    const double length = guide_length(job, job.head.valves.at(stop.valve).kind);
    stop.cut_start = stop.z + std::max(0.0, metal) + air_gap;
    stop.entry_end = std::max(stop.cut_start, stop.z + length - entry_inside);
    stop.entry_top = std::max(stop.entry_end, stop.z + length + entry_above);
}

}  // namespace seatwright::cut
