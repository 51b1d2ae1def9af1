#include "seatwright/cut/expect.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/cut/expect_heights.hpp"
#include "seatwright/job/of_head.hpp"

namespace seatwright::cut {

namespace {

// A head on its posts lies no further askew where nothing else is known (judgement).
constexpr double most_yaw = rad(2);

// Rx(tilt) · Ry(swing) written out once more (names.md, "Angles in the setup").
Mat3 turned(double tilt, double swing) {
    const double ct = std::cos(tilt), st = std::sin(tilt), cs = std::cos(swing), ss = std::sin(swing);
    Mat3 out;
    out << cs, 0, ss, st * ss, ct, -st * cs, -ct * ss, st, ct * cs;
    return out;
}

// Yaw by the touches alone, each guide's mean against its map place; sd by the spread of the places.
void yaw_of_touches(Expected& out, double sd) {
    std::vector<Vec2> from, to;
    for (const ExpectedSeat& seat : out.seats) {
        if (seat.anchors.empty() || seat.by_own_touch) continue;
        Vec2 mean = Vec2::Zero();
        for (const Anchor& anchor : seat.anchors) mean += anchor.at;
        from.push_back(seat.map);
        to.push_back(mean / static_cast<double>(seat.anchors.size()));
    }
    if (from.size() < 2) return;
    Vec2 centre = Vec2::Zero(), touched = Vec2::Zero();
    for (std::size_t i = 0; i < from.size(); ++i) {
        centre += from[i] / static_cast<double>(from.size());
        touched += to[i] / static_cast<double>(from.size());
    }
    double along = 0, across = 0, spread = 0;
    for (std::size_t i = 0; i < from.size(); ++i) {
        const Vec2 a = from[i] - centre, b = to[i] - touched;
        along += a.dot(b);
        across += a.x() * b.y() - a.y() * b.x();
        spread += a.squaredNorm();
    }
    if (spread <= 0) return;
    const double within = beyond_chance * sd / std::sqrt(spread);
    if (within >= out.yaw_within) return;  // the prior says more
    out.yaw = std::atan2(across, along);
    out.yaw_within = within;
}

void take_touches(Expected& out, const job::Job& job, const ExpectedFor& what) {
    const double casting = job.find.casting_sd;
    for (const std::size_t i : job::of_head(job.readings.touches, what.head).places()) {
        const job::Touch& touch = job.readings.touches[i];
        if (std::find(what.set_aside.begin(), what.set_aside.end(), i) != what.set_aside.end()) continue;
        for (ExpectedSeat& seat : out.seats) {
            if (seat.id != touch.valve) continue;
            const double sd = touch.sd.value_or(job.find.touch_sd);
            seat.anchors.push_back(
                {touch.at, beyond_chance * std::hypot(sd, casting) + job.machine.resolution});
            seat.by_own_touch = seat.by_own_touch || touch.keep;
        }
    }
}

}  // namespace

const ExpectedSeat* Expected::seat(std::size_t valve) const {
    const auto at =
        std::find_if(seats.begin(), seats.end(), [&](const ExpectedSeat& s) { return s.valve == valve; });
    return at == seats.end() ? nullptr : &*at;
}

Expected expect(const job::Job& job, const hold::Setup& setup, const ExpectedFor& what) {
    Expected out;
    out.turn = turned(setup.tilt, setup.swing);
    out.datum = job.head.valves.at(setup.datum).seat;
    for (const hold::Held& held : setup.valves) {
        const job::Valve& valve = job.head.valves.at(held.valve);
        ExpectedSeat seat;
        seat.valve = held.valve;
        seat.id = valve.id;
        const Vec3 m = out.turn * (valve.seat - out.datum);
        seat.map = Vec2(job.machine.x_sign * m.x(), job.machine.y_sign * m.y());
        for (const find::Learned& learned : what.learned)
            if (learned.valve == held.valve) seat.map += learned.mean;
        seat.m = m.z();
        take_heights(seat, job, what.head);
        if (held.valve < what.seats.size()) {
            seat.planned = what.seats[held.valve].planned;
            seat.touched_at = what.seats[held.valve].recession;
        }
        out.seats.push_back(seat);
    }
    const double casting = job.find.casting_sd, touch = job.find.touch_sd;
    out.pair_within =
        beyond_chance * std::sqrt(2.0) * std::hypot(casting, touch) + 2 * job.machine.resolution;
    out.single_within = beyond_chance * casting + job.machine.resolution;
    const auto& carry = job.find.carry;
    double yaw_sd = job.find.yaw_sd.value_or(what.posts_yaw_sd.value_or(most_yaw / beyond_chance));
    if (carry) {
        out.offset = carry->offset;
        out.yaw = carry->yaw;
        yaw_sd = carry->yaw_sd;
        out.single_within += beyond_chance * carry->sd;
    }
    out.yaw_within = beyond_chance * yaw_sd;
    take_touches(out, job, what);
    yaw_of_touches(out, std::hypot(casting, touch));
    return out;
}

}  // namespace seatwright::cut
