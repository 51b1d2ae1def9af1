#include "seatwright/shape/flow.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/shape/section.hpp"

namespace seatwright::shape {

namespace {
constexpr int curve_points = 36;     // of the curve
constexpr double last_lift = 0.35;   // in valve diameters: beyond what cams give
constexpr double flattest = rad(1);  // below this a seat is a flat disc and w/(sin β·cos β) means nothing
}  // namespace

double second_regime(const Curtain& c) {
    return c.width / (std::sin(c.angle) * std::cos(c.angle));
}

double third_regime(const Curtain& c) {
    const double across = (c.port * c.port - c.stem * c.stem) / (4 * (c.head - c.width));
    const double root = std::sqrt(std::max(0.0, across * across - c.width * c.width));
    return std::max(second_regime(c), root + c.width * std::tan(c.angle));
}

double flow_area(const Curtain& c, double lift) {
    const double throat = pi / 4 * (c.port * c.port - c.stem * c.stem);
    if (lift <= 0) return 0;
    if (lift < second_regime(c))
        return pi * lift * std::cos(c.angle) * (c.head - 2 * c.width + lift / 2 * std::sin(2 * c.angle));
    if (lift < third_regime(c))
        return pi * (c.head - c.width) * std::hypot(lift - c.width * std::tan(c.angle), c.width);
    return throat;
}

std::optional<Flow> flow_of(const job::Job& job, job::Kind kind) {
    if (!job.valve[kind] || !job.seat[kind]) return std::nullopt;
    const job::ValveForm& valve = *job.valve[kind];
    const job::SeatForm& seat = *job.seat[kind];
    const Section section = section_of(valve, seat);
    const double port = 2 * section.points.front().x();
    const double stem = valve.stem_diameter.value_or(0);
    if (!(port > stem) || seat.angle < flattest) return std::nullopt;
    const Curtain curtain{valve.head_diameter, seat.width * std::cos(seat.angle), seat.angle, port, stem};
    Flow flow;
    flow.kind = kind;
    flow.throat_diameter = port;
    flow.throat_area = pi / 4 * (port * port - stem * stem);
    flow.second_regime = second_regime(curtain);
    flow.third_regime = third_regime(curtain);
    for (int i = 0; i < curve_points; ++i) {
        const double lift = last_lift * valve.head_diameter * i / (curve_points - 1);
        flow.curve.emplace_back(lift, std::min(flow_area(curtain, lift), flow.throat_area));
    }
    return flow;
}

}  // namespace seatwright::shape
