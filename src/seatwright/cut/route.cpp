#include "seatwright/cut/route.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/fault.hpp"

namespace seatwright::cut {

namespace {

// A deck steeper than this to the spindle says nothing of heights beside the path; its edges are then used.
constexpr double least_deck_rise = 0.2;

// The box of the stops in machine X, Y relative to the datum, grown by what a cutter passes over.
struct HeadBox {
    Vec2 low, high;
    bool holds(const Vec2& p) const {
        return p.x() >= low.x() && p.x() <= high.x() && p.y() >= low.y() && p.y() <= high.y();
    }
    void take(const Vec2& p) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    void grow() {
        low -= Vec2::Constant(beside_path);
        high += Vec2::Constant(beside_path);
    }
};

HeadBox grown_head(const job::Job& job, const Mat3& turn, const Vec3& datum, HeadBox head) {
    const auto count = [&](const Vec3& point) { head.take(Vec3(turn * (point - datum)).head<2>()); };
    for (const job::Valve& valve : job.head.valves) count(valve.seat);
    for (const job::Obstacle& obstacle : job.head.obstacles) count(obstacle.centre);
    for (const Vec2& hole : job.head.bolt_holes) count(Vec3(hole.x(), hole.y(), 0));
    head.grow();
    return head;
}

// The way from seat to seat, and from where heads are loaded and first seats measured; beyond what is known
// of the head, grown likewise, there is no head.
HeadBox box_of(const job::Job& job, const Mat3& turn, const Vec3& datum, const std::vector<Stop>& stops) {
    const Vec2 signs(job.machine.x_sign, job.machine.y_sign);
    HeadBox way{signs.cwiseProduct(stops.front().at), signs.cwiseProduct(stops.front().at)};
    for (const Stop& stop : stops) way.take(signs.cwiseProduct(stop.at));
    const HeadBox head = grown_head(job, turn, datum, way);
    for (const auto& place : {job.machine.load_at, job.machine.measure_at})
        if (place) way.take(signs.cwiseProduct(*place));
    way.grow();
    return {way.low.cwiseMax(head.low), way.high.cwiseMin(head.high)};
}

std::optional<job::FirstFigure> figure_of(ShallRead::By by) {
    switch (by) {
        case ShallRead::By::depth:
            return job::FirstFigure::depth;
        case ShallRead::By::stem_height:
            return job::FirstFigure::stem_height;
        case ShallRead::By::below_deck:
            return job::FirstFigure::below_deck;
        case ShallRead::By::nothing:
            break;
    }
    return std::nullopt;
}

}  // namespace

std::vector<ToMeasure> to_measure(const Route& route) {
    std::vector<ToMeasure> out;
    for (const Stop& stop : route.stops)
        if (const auto figure = figure_of(stop.reads.by);
            figure && (stop.short_cut || route.part == FilePart::first))
            out.push_back({stop.id, *figure, stop.reads.value});
    return out;
}

Route whole_setup(const std::vector<Route>& routes, std::size_t setup) {
    Route whole;
    for (const Route& route : routes) {
        if (route.setup != setup) continue;
        if (whole.stops.empty()) {
            whole = route;
            continue;
        }
        whole.stops.insert(whole.stops.end(), route.stops.begin(), route.stops.end());
        whole.zeros.insert(whole.zeros.end(), route.zeros.begin(), route.zeros.end());
        whole.clear = std::max(whole.clear, route.clear);
    }
    return whole;
}

const CutterZero& zero_of(const Route& route, int cutter) {
    const auto at = std::find_if(route.zeros.begin(), route.zeros.end(),
                                 [&](const CutterZero& zero) { return zero.cutter == cutter; });
    require(at != route.zeros.end(), "each cutter of a file has its Z zero");
    return *at;
}

std::optional<Vec2> beside_head(const job::Job& job, const hold::Setup& setup) {
    const Vec2 signs(job.machine.x_sign, job.machine.y_sign);
    const HeadBox head =
        grown_head(job, setup.rotation(), job.head.valves.at(setup.datum).seat, {Vec2::Zero(), Vec2::Zero()});
    for (const auto& place : {job.machine.measure_at, job.machine.load_at})
        if (place && !head.holds(signs.cwiseProduct(*place))) return place;
    return std::nullopt;
}

double approach_height(const job::Job& job, double metal, double kappa, double uncertainty) {
    const double over = std::max(job.cut.approach.value_or(least_approach), uncertainty + approach_margin);
    return std::max(0.0, metal) + std::max(0.0, kappa) + over;
}

void set_heights(const job::Job& job, Stop& stop, const ToolBelow& below, double approach, double depth) {
    stop.approach = stop.z + approach;
    stop.over_mouth = std::max(stop.approach, stop.z + below.over_mouth);
    const double finish = std::max(0.0, job.cut.finish_depth);
    stop.finish_from = depth < finish - 1e-9 ? stop.approach : std::min(stop.approach, stop.z + finish);
}

double clear_height(const job::Job& job, const hold::Setup& setup, const std::vector<Stop>& stops, double tip,
                    double zero) {
    require(!stops.empty(), "a route has a stop");
    const Mat3 turn = setup.rotation();
    const Vec3 datum = job.head.valves.at(setup.datum).seat;
    const HeadBox box = box_of(job, turn, datum, stops);
    double highest = stops.front().z, over_mouth = stops.front().over_mouth;
    for (const Stop& stop : stops) over_mouth = std::max(over_mouth, stop.over_mouth);
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
    return std::ceil(std::max(highest + tip + clear_margin, over_mouth));
}

}  // namespace seatwright::cut
