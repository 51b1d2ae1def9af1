#include "seatwright/job/crossing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

namespace seatwright::job {
namespace {

constexpr double usual_reach = 75;           // mm from seat to the guide's far end, common practice
constexpr double usual_to_seat = 35;         // likewise, to the guide's top
constexpr double usual_stem = 6;             // diameter
constexpr double leaning = 3 * rad_per_deg;  // a row that leans less stands upright
constexpr double far_apart = 200;            // mm: no guides of two seats so far apart meet

// A straight round bar.
struct Bar {
    Vec3 from = Vec3::Zero(), to = Vec3::Zero();
    double radius = 0;
};

double between(double v, double low, double high) {
    return std::min(std::max(v, low), high);
}

// Least distance of two segments (closest points of two lines, each taken back into its segment; Ericson,
// Real-Time Collision Detection, 5.1.9).
double distance(const Bar& a, const Bar& b) {
    const Vec3 u = a.to - a.from, v = b.to - b.from, w = a.from - b.from;
    const double uu = u.squaredNorm(), vv = v.squaredNorm(), uv = u.dot(v), uw = u.dot(w), vw = v.dot(w);
    const double denominator = uu * vv - uv * uv;
    constexpr double parallel = 1e-12;
    double s = denominator > parallel * uu * vv ? between((uv * vw - vv * uw) / denominator, 0, 1) : 0;
    double t = vv > 0 ? (uv * s + vw) / vv : 0;
    if (t < 0 || t > 1) {
        t = between(t, 0, 1);
        s = uu > 0 ? between((uv * t - uw) / uu, 0, 1) : 0;
    }
    return (w + s * u - t * v).norm();
}

struct Standing {
    std::array<Bar, 2> bars;  // stem, guide
    double reach = 0;
};

Standing standing(const Job& job, const Valve& valve) {
    const auto& guide = job.guide[valve.kind];
    const auto& form = job.valve[valve.kind];
    const auto bore = guide ? guide->bore : std::nullopt;
    const double stem = form && form->stem_diameter ? *form->stem_diameter : bore.value_or(usual_stem);
    const double to_seat = guide ? guide->to_seat.value_or(usual_to_seat) : usual_to_seat;
    const double length =
        guide ? guide->length.value_or(usual_reach - usual_to_seat) : usual_reach - usual_to_seat;
    const double outside = guide && guide->outside ? *guide->outside : bore.value_or(stem);
    const Vec3 axis = valve.axis();
    const Vec3 top = valve.seat - to_seat * axis, end = top - length * axis;
    return {{Bar{valve.seat, top, stem / 2}, Bar{top, end, outside / 2}}, to_seat + length};
}

// The upper one in y leans to +Y and the other to −Y: into the casting they run towards each other. Two of a
// kind side by side in a row that lean to different sides are another matter (place_doubts.hpp).
bool lean_together(const Valve& a, const Valve& b, double reach) {
    const Valve& high = a.seat.y() > b.seat.y() ? a : b;
    const Valve& low = a.seat.y() > b.seat.y() ? b : a;
    if (a.cylinder != b.cylinder || high.incline < leaning || low.incline > -leaning) return false;
    if (a.kind == b.kind && high.seat.y() - low.seat.y() < one_row) return false;
    const double closing = std::tan(high.incline) - std::tan(low.incline);
    return (high.seat.y() - low.seat.y()) / closing < reach;
}

}  // namespace

std::vector<Crossing> crossings(const Job& job) {
    const auto& valves = job.head.valves;
    std::vector<Standing> all;
    all.reserve(valves.size());
    for (const auto& valve : valves) all.push_back(standing(job, valve));
    std::vector<Crossing> out;
    for (std::size_t i = 0; i < valves.size(); ++i)
        for (std::size_t j = i + 1; j < valves.size(); ++j) {
            if (valves[j].seat.x() - valves[i].seat.x() > far_apart) break;  // head order: ascending x
            bool meet = lean_together(valves[i], valves[j], std::min(all[i].reach, all[j].reach));
            for (const Bar& a : all[i].bars)
                for (const Bar& b : all[j].bars) meet = meet || distance(a, b) < a.radius + b.radius;
            if (meet) out.push_back({i, j});
        }
    return out;
}

}  // namespace seatwright::job
