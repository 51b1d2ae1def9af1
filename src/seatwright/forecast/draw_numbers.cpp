#include "seatwright/forecast/draw_numbers.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "seatwright/job/kind_index.hpp"

namespace seatwright::forecast {
namespace {

float single(double x) {
    return static_cast<float>(x);
}

bool gauges_known(const Batch& b) {
    for (const Seat& seat : b.seats) {
        if (seat.runout_max && !b.runout_u) return false;
        if (seat.width_tol && !b.width_u) return false;
        if (!seat.height.open() && !b.height_u) return false;
    }
    return !b.stem_spread || b.height_u.has_value();
}

// Mean planned height of a kind: heights are drawn less it, so that float does not lose their figures.
std::array<double, kinds> middles(const Batch& b) {
    std::array<double, kinds> sum{}, n{};
    for (const Seat& seat : b.seats) {
        sum[index_of(seat.kind)] += seat.planned_height.value_or(0);
        n[index_of(seat.kind)] += 1;
    }
    for (std::size_t k = 0; k < kinds; ++k) sum[k] = n[k] > 0 ? sum[k] / n[k] : 0;
    return sum;
}

void plan_figure(DrawnFigure& figure, double low, double high, bool limited) {
    if (figure.bars.empty()) {
        figure.bars.assign(bars, 0);
        figure.low = low;
        figure.high = high;
    }
    figure.low = std::min(figure.low, low);
    figure.high = std::max(figure.high, high);
    figure.limited = figure.limited || limited;
}

void plan_figures(const Batch& b, const Seat& seat, const SeatNumbers& s, double middle, Numbers& out) {
    constexpr double far = 6;
    const Held& held = b.setups[seat.setup];
    const double arm = seat.from_posts.norm(), turn = std::sqrt(std::max(0.0, held.pose(2, 2))) * arm;
    const double place = std::sqrt(std::max(0.0, std::max(held.pose(0, 0), held.pose(1, 1))));
    const double one =
        std::abs(static_cast<double>(s.reach)) * std::hypot(place, turn, static_cast<double>(s.miss));
    const double lean = static_cast<double>(s.lean) * std::hypot(held.level_sd, b.guide_angle_sd);
    const double most = static_cast<double>(s.lean) * seat.residual.norm() + static_cast<double>(s.disc) +
                        static_cast<double>(s.ring) + far * std::hypot(one, lean);
    plan_figure(out.plan[s.kind], 0, std::max(2 * most, 1e-6), seat.runout_max.has_value());
    const double life = static_cast<double>(out.life) * seat.seats_of_cutter;
    const auto range = [&](DrawnFigure& figure, double mean, double sd, double wear, double offset,
                           bool limited) {
        const double worn = wear * life;
        plan_figure(figure, mean - far * sd + std::min(0.0, worn) - 1e-6,
                    mean + far * sd + std::max(0.0, worn) + 1e-6, limited);
        figure.offset = offset;
    };
    range(out.plan[kinds + s.kind], seat.width + seat.width_off, b.width_sd, b.width_wear, seat.width,
          seat.width_tol.has_value());
    const double sd =
        std::sqrt(std::pow(held.level_sd * seat.from_zero.norm(), 2) + std::pow(b.zeros[seat.zero], 2) +
                  std::pow(b.height_sd, 2) + std::pow(b.depth_sd, 2));
    range(out.plan[2 * kinds + s.kind], seat.planned_height.value_or(0), sd, b.depth_wear, middle,
          !seat.height.open());
}

}  // namespace

Numbers numbers_of(const Batch& b) {
    Numbers out;
    out.judged = gauges_known(b);
    out.heads = static_cast<std::uint64_t>(std::max(1, b.heads));
    out.life = static_cast<std::uint64_t>(std::max(1, std::min(b.heads, b.change_every.value_or(b.heads))));
    for (const Held& held : b.setups) {
        SetupNumbers setup;
        const Eigen::SelfAdjointEigenSolver<Mat3> solver(held.pose);
        for (int row = 0; row < 3; ++row)
            for (int column = 0; column < 3; ++column)
                setup.pose[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)] =
                    single(solver.eigenvectors()(row, column) *
                           std::sqrt(std::max(0.0, solver.eigenvalues()(column))));
        setup.level = single(held.level_sd);
        out.setups.push_back(setup);
    }
    out.zeros.reserve(b.zeros.size());
    for (const double zero : b.zeros) out.zeros.push_back(single(zero));
    const auto middle = middles(b);
    if (b.stem_spread) out.spread = single(*b.stem_spread);
    out.spread_u = single(std::sqrt(2.0) * 2 * b.height_u.value_or(0));
    out.seats.reserve(b.seats.size());
    for (const Seat& seat : b.seats) {
        SeatNumbers s;
        const double sine = std::sin(seat.angle), half = seat.gauge / 2 * std::cos(seat.angle);
        s.setup = seat.setup;
        s.zero = seat.zero;
        s.kind = index_of(seat.kind);
        s.gain = single(b.gain(seat));
        s.px = single(seat.from_posts.x());
        s.py = single(seat.from_posts.y());
        s.miss = single(std::hypot(b.own_sd(seat), b.positioning_sd));
        if (seat.room) s.room2 = single(*seat.room * *seat.room);
        s.reach = single(seat.bend * sine + half * (1 - b.share) * seat.bend * seat.bend_slope);
        s.lean = single(half * b.share);
        s.rx = single(half * b.share * seat.residual.x());
        s.ry = single(half * b.share * seat.residual.y());
        s.guide = single(half * b.share * b.guide_angle_sd);
        s.disc = single(seat.play * sine);
        s.ring = single(seat.pilot_runout / 2 * sine);
        out.plays = out.plays || s.disc > 0;
        if (seat.runout_max) s.runout_max = single(*seat.runout_max);
        s.runout_u = single(b.runout_u.value_or(0));
        s.width_sd = single(b.width_sd);
        s.width = single(seat.width_off + b.width_wear * seat.place);
        s.width_slope = single(b.width_wear * seat.seats_of_cutter);
        if (seat.width_tol) s.width_tol = single(*seat.width_tol);
        s.width_u = single(b.width_u.value_or(0));
        s.height = single(seat.planned_height.value_or(0) - middle[s.kind] + b.depth_wear * seat.place);
        s.height_sd = single(std::hypot(b.height_sd, b.depth_sd));
        s.depth_slope = single(b.depth_wear * seat.seats_of_cutter);
        s.zx = single(seat.from_zero.x());
        s.zy = single(seat.from_zero.y());
        if (seat.planned_height && seat.height.low) s.low = single(*seat.height.low - middle[s.kind]);
        if (seat.planned_height && seat.height.high) s.high = single(*seat.height.high - middle[s.kind]);
        s.height_u = single(b.height_u.value_or(0));
        plan_figures(b, seat, s, middle[s.kind], out);
        out.seats.push_back(s);
    }
    return out;
}

}  // namespace seatwright::forecast
