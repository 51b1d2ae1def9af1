#include "seatwright/forecast/draw.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <thread>

#include "seatwright/forecast/transforms.hpp"
#include "seatwright/forecast/vectors.hpp"

namespace seatwright::forecast {
namespace {

constexpr std::size_t bars = 512;
constexpr float huge = std::numeric_limits<float>::max();
constexpr std::size_t kinds = 2, figures = 6;

std::size_t kind_of(const Seat& seat) {
    return seat.kind == job::Kind::intake ? 0 : 1;
}

float single(double x) {
    return static_cast<float>(x);
}

// What the loops need of a seat.
struct SeatNumbers {
    std::size_t setup = 0, zero = 0, kind = 0;
    float gain = 1, px = 0, py = 0, miss = 0, room2 = huge;
    float reach = 0, lean = 0, rx = 0, ry = 0, guide = 0, disc = 0, ring = 0;
    float runout_max = huge, runout_u = 0;
    float width_sd = 0, width_wear = 0, width_tol = huge, width_u = 0;
    float height = 0, height_sd = 0, depth_wear = 0, zx = 0, zy = 0;
    float low = -huge, high = huge, height_u = 0;
    float place = 0, seats = 1;
};

struct SetupNumbers {
    std::array<std::array<float, 3>, 3> pose{};  // rows: t'x, t'y, θ'; columns: of three normals
    float level = 0;
};

struct Numbers {
    std::vector<SeatNumbers> seats;
    std::vector<SetupNumbers> setups;
    std::vector<float> zeros;
    float spread = huge, spread_u = 0;  // √2·U
    std::uint64_t heads = 1, life = 1;
    bool judged = false, plays = false;
    std::array<DrawnFigure, figures> plan;  // empty counts
};

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
        sum[kind_of(seat)] += seat.planned_height.value_or(0);
        n[kind_of(seat)] += 1;
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
    range(out.plan[kinds + s.kind], seat.width, b.width_sd, b.width_wear, seat.width,
          seat.width_tol.has_value());
    const double sd =
        std::sqrt(std::pow(held.level_sd * seat.from_zero.norm(), 2) + std::pow(b.zeros[seat.zero], 2) +
                  std::pow(b.height_sd, 2) + std::pow(b.depth_sd, 2));
    range(out.plan[2 * kinds + s.kind], seat.planned_height.value_or(0), sd, b.depth_wear, middle,
          !seat.height.open());
}

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
        s.kind = kind_of(seat);
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
        s.width_wear = single(b.width_wear);
        if (seat.width_tol) s.width_tol = single(*seat.width_tol);
        s.width_u = single(b.width_u.value_or(0));
        s.height = single(seat.planned_height.value_or(0) - middle[s.kind]);
        s.height_sd = single(std::hypot(b.height_sd, b.depth_sd));
        s.depth_wear = single(b.depth_wear);
        s.zx = single(seat.from_zero.x());
        s.zy = single(seat.from_zero.y());
        if (seat.planned_height && seat.height.low) s.low = single(*seat.height.low - middle[s.kind]);
        if (seat.planned_height && seat.height.high) s.high = single(*seat.height.high - middle[s.kind]);
        s.height_u = single(b.height_u.value_or(0));
        s.place = single(seat.place);
        s.seats = single(seat.seats_of_cutter);
        plan_figures(b, seat, s, middle[s.kind], out);
        out.seats.push_back(s);
    }
    return out;
}

// What two seats share, made for the first of them.
struct PairWords {
    Words discs, rest;
    Lane read, next_read;
};

// Everything of `lanes` heads.
struct Block {
    Words words;
    PairWords pair;
    Lane x, y, u, v, life;
    std::vector<Lane> tx, ty, th, ax, ay;  // a setup
    std::vector<Lane> zero;
    alignas(64) std::array<std::int32_t, lanes> bad{}, not_pass{}, failed{};
    std::array<Lane, kinds> low, high, low_read, high_read;
    Lane runout, width, height;
    alignas(64) std::array<std::int32_t, lanes> place{};
    std::array<std::uint64_t, lanes> head{};  // of the batch

    explicit Block(const Numbers& n)
        : tx(n.setups.size()),
          ty(n.setups.size()),
          th(n.setups.size()),
          ax(n.setups.size()),
          ay(n.setups.size()),
          zero(n.zeros.size()) {}
};

// Groups of counters: 0 … for what is shared, then two for each seat and two for each two of them: `discs`, a
// place in the disc of play each; `rest`, the height's reading (of one pair of normals one each) and the
// direction of the pilot's runout.
enum SeatGroup : std::uint32_t { miss_and_guide, sizes_and_reading, groups_a_seat };
enum PairGroup : std::uint32_t { discs, rest, groups_a_pair };

SEATWRIGHT_VECTORS
void draw_shared(const Numbers& n, std::uint64_t seed, std::uint64_t first, Block& b) {
    std::uint32_t group = 0;
    for (std::size_t s = 0; s < n.setups.size(); ++s) {
        const SetupNumbers& setup = n.setups[s];
        philox(seed, first, group++, b.words);
        normals(b.words.a, b.words.b, b.x, b.y);
        normals(b.words.c, b.words.d, b.u, b.v);
        for (std::size_t i = 0; i < lanes; ++i) {
            b.tx[s][i] = setup.pose[0][0] * b.x[i] + setup.pose[0][1] * b.y[i] + setup.pose[0][2] * b.u[i];
            b.ty[s][i] = setup.pose[1][0] * b.x[i] + setup.pose[1][1] * b.y[i] + setup.pose[1][2] * b.u[i];
            b.th[s][i] = setup.pose[2][0] * b.x[i] + setup.pose[2][1] * b.y[i] + setup.pose[2][2] * b.u[i];
        }
        if (setup.level <= 0) {
            ++group;
            b.ax[s].fill(0);
            b.ay[s].fill(0);
            continue;
        }
        philox(seed, first, group++, b.words);
        normals(b.words.a, b.words.b, b.x, b.y);
        for (std::size_t i = 0; i < lanes; ++i) {
            b.ax[s][i] = setup.level * b.x[i];
            b.ay[s][i] = setup.level * b.y[i];
        }
    }
    for (std::size_t z = 0; z < n.zeros.size(); z += 2) {
        philox(seed, first, group++, b.words);
        normals(b.words.a, b.words.b, b.x, b.y);
        for (std::size_t i = 0; i < lanes; ++i) b.zero[z][i] = n.zeros[z] * b.x[i];
        if (z + 1 < n.zeros.size())
            for (std::size_t i = 0; i < lanes; ++i) b.zero[z + 1][i] = n.zeros[z + 1] * b.y[i];
    }
}

SEATWRIGHT_VECTORS
void draw_pair(const Numbers& n, std::uint64_t seed, std::uint64_t first, std::uint32_t group, Block& b) {
    if (n.plays) philox(seed, first, group + discs, b.pair.discs);
    philox(seed, first, group + rest, b.pair.rest);
    if (n.judged) normals(b.pair.rest.a, b.pair.rest.b, b.pair.read, b.pair.next_read);
}

SEATWRIGHT_VECTORS
void draw_runout(const SeatNumbers& given, std::uint64_t seed, std::uint64_t first, std::uint32_t group,
                 bool second, Block& b) {
    const SeatNumbers s = given;  // nothing written below can change it
    const Lane &tx = b.tx[s.setup], &ty = b.ty[s.setup], &th = b.th[s.setup];
    const Lane &ax = b.ax[s.setup], &ay = b.ay[s.setup];
    philox(seed, first, group + miss_and_guide, b.words);
    normals(b.words.a, b.words.b, b.x, b.y);
    normals(b.words.c, b.words.d, b.u, b.v);
    for (std::size_t i = 0; i < lanes; ++i) {
        const float mx = s.gain * (tx[i] - th[i] * s.py) + s.miss * b.x[i];
        const float my = s.gain * (ty[i] + th[i] * s.px) + s.miss * b.y[i];
        const std::int32_t out = mx * mx + my * my > s.room2 ? 1 : 0;
        b.bad[i] |= out;
        b.not_pass[i] |= out;
        b.failed[i] |= out;
        b.x[i] = s.reach * mx + s.lean * ax[i] + s.rx + s.guide * b.u[i];
        b.y[i] = s.reach * my + s.lean * ay[i] + s.ry + s.guide * b.v[i];
    }
    if (s.disc > 0) {
        const Words& of = b.pair.discs;
        in_disc(second ? of.c : of.a, second ? of.d : of.b, b.u, b.v);
        for (std::size_t i = 0; i < lanes; ++i) {
            b.x[i] += s.disc * b.u[i];
            b.y[i] += s.disc * b.v[i];
        }
    }
    if (s.ring > 0) {
        directions_of(second ? b.pair.rest.d : b.pair.rest.c, b.u, b.v);
        for (std::size_t i = 0; i < lanes; ++i) {
            b.x[i] += s.ring * b.u[i];
            b.y[i] += s.ring * b.v[i];
        }
    }
    for (std::size_t i = 0; i < lanes; ++i) {
        b.runout[i] = 2 * std::sqrt(b.x[i] * b.x[i] + b.y[i] * b.y[i]);
        b.bad[i] |= b.runout[i] > s.runout_max ? 1 : 0;
    }
}

SEATWRIGHT_VECTORS
void draw_sizes(const SeatNumbers& given, std::uint64_t seed, std::uint64_t first, std::uint32_t group,
                bool judged, bool second, Block& b) {
    const SeatNumbers s = given;
    philox(seed, first, group + sizes_and_reading, b.words);
    normals(b.words.a, b.words.b, b.x, b.y);
    const Lane &ax = b.ax[s.setup], &ay = b.ay[s.setup], &zero = b.zero[s.zero];
    Lane &low = b.low[s.kind], &high = b.high[s.kind];
    for (std::size_t i = 0; i < lanes; ++i) {
        const float worn = b.life[i] * s.seats + s.place;
        b.height[i] =
            s.height + zero[i] - (ax[i] * s.zx + ay[i] * s.zy) + s.height_sd * b.x[i] + s.depth_wear * worn;
        b.width[i] = s.width_sd * b.y[i] + s.width_wear * worn;
        const std::int32_t out = (b.height[i] < s.low ? 1 : 0) | (b.height[i] > s.high ? 1 : 0) |
                                 (std::abs(b.width[i]) > s.width_tol ? 1 : 0);
        b.bad[i] |= out;
        low[i] = std::min(low[i], b.height[i]);
        high[i] = std::max(high[i], b.height[i]);
    }
    if (!judged) return;
    normals(b.words.c, b.words.d, b.u, b.v);
    const float runout_in = s.runout_max - 2 * s.runout_u, runout_out = s.runout_max + 2 * s.runout_u;
    const float width_in = s.width_tol - 2 * s.width_u, width_out = s.width_tol + 2 * s.width_u;
    for (std::size_t i = 0; i < lanes; ++i) {
        const float runout = b.runout[i] + s.runout_u * b.u[i];
        const float width = std::abs(b.width[i] + s.width_u * b.v[i]);
        b.not_pass[i] |= (runout > runout_in ? 1 : 0) | (width > width_in ? 1 : 0);
        b.failed[i] |= (runout > runout_out ? 1 : 0) | (width > width_out ? 1 : 0);
    }
    const Lane& error = second ? b.pair.next_read : b.pair.read;
    Lane &low_read = b.low_read[s.kind], &high_read = b.high_read[s.kind];
    const float u = 2 * s.height_u;
    for (std::size_t i = 0; i < lanes; ++i) {
        const float height = b.height[i] + s.height_u * error[i];
        b.not_pass[i] |= (height < s.low + u ? 1 : 0) | (height > s.high - u ? 1 : 0);
        b.failed[i] |= (height < s.low - u ? 1 : 0) | (height > s.high + u ? 1 : 0);
        low_read[i] = std::min(low_read[i], height);
        high_read[i] = std::max(high_read[i], height);
    }
}

SEATWRIGHT_VECTORS
void judge_spread(const Numbers& n, Block& b) {
    for (std::size_t k = 0; k < kinds; ++k)
        for (std::size_t i = 0; i < lanes; ++i) {
            const float spread = b.high[k][i] - b.low[k][i], read = b.high_read[k][i] - b.low_read[k][i];
            b.bad[i] |= spread > n.spread ? 1 : 0;
            b.not_pass[i] |= read > n.spread - n.spread_u ? 1 : 0;
            b.failed[i] |= read > n.spread + n.spread_u ? 1 : 0;
        }
}

// Where each value lies among the bars, how many are within, and their sums, eight side by side so that the
// order of adding does not hang on the vector width.
struct Sums {
    static constexpr std::size_t side = 8;
    alignas(64) std::array<double, side> sum{}, squares{};
    std::int32_t within = 0;
};

SEATWRIGHT_VECTORS
void place_and_sum(const Lane& value, float from, float by, float low, float high, std::int32_t* place,
                   Sums& sums) {
    for (std::size_t i = 0; i < lanes; ++i) {
        const float at = std::min(std::max((value[i] - from) * by, 0.0F), static_cast<float>(bars) - 1);
        place[i] = static_cast<std::int32_t>(at);
    }
    std::int32_t within = 0;
    for (std::size_t i = 0; i < lanes; ++i) within += (value[i] >= low ? 1 : 0) & (value[i] <= high ? 1 : 0);
    sums.within = within;
    for (std::size_t i = 0; i < lanes; i += Sums::side)
        for (std::size_t k = 0; k < Sums::side; ++k) {
            const auto x = static_cast<double>(value[i + k]);
            sums.sum[k] += x;
            sums.squares[k] += x * x;
        }
}

// `value` less the figure's offset.
void count(DrawnFigure& figure, Lane& value, std::size_t many, float low, float high, Block& b) {
    const double scale = static_cast<double>(bars) / (figure.high - figure.low);
    const float from = single(figure.low - figure.offset), by = single(scale);
    // Heads not wanted lie outside and add nothing.
    for (std::size_t i = many; i < lanes; ++i) value[i] = 0;
    Sums sums;
    place_and_sum(value, from, by, low, high, b.place.data(), sums);
    for (std::size_t i = 0; i < many; ++i) ++figure.bars[static_cast<std::size_t>(b.place[i])];
    std::int64_t within = sums.within;
    for (std::size_t i = many; i < lanes; ++i) within -= (low <= 0 ? 1 : 0) & (high >= 0 ? 1 : 0);
    double sum = 0, squares = 0;
    for (std::size_t k = 0; k < Sums::side; ++k) {
        sum += sums.sum[k];
        squares += sums.squares[k];
    }
    figure.n += many;
    figure.within += static_cast<std::uint64_t>(within);
    figure.sum += std::llround(sum * fixed_point);
    figure.squares += std::llround(squares * fixed_point);
}

Drawn empty(const Numbers& n) {
    Drawn out;
    out.judged = n.judged;
    out.by_head.assign(n.heads, 0);
    out.good_by_head.assign(n.heads, 0);
    out.figures.assign(n.plan.begin(), n.plan.end());
    return out;
}

// Heads first … first + many − 1 into `out`.
void draw_block(const Numbers& n, std::uint64_t seed, std::uint64_t first, std::size_t many, Block& b,
                Drawn& out) {
    std::uint64_t of_batch = first % n.heads, life = of_batch % n.life;
    for (std::size_t i = 0; i < lanes; ++i) {
        b.life[i] = static_cast<float>(life);
        b.head[i] = of_batch;
        ++life;
        if (++of_batch == n.heads) of_batch = life = 0;
        if (life == n.life) life = 0;
    }
    b.bad.fill(0);
    b.not_pass.fill(0);
    b.failed.fill(0);
    for (std::size_t k = 0; k < kinds; ++k) {
        b.low[k].fill(huge / 4);
        b.low_read[k].fill(huge / 4);
        b.high[k].fill(-huge / 4);
        b.high_read[k].fill(-huge / 4);
    }
    draw_shared(n, seed, first, b);
    auto group = static_cast<std::uint32_t>(2 * n.setups.size() + (n.zeros.size() + 1) / 2);
    std::uint32_t of_pair = group + groups_a_seat * static_cast<std::uint32_t>(n.seats.size());
    bool second = false;
    for (const SeatNumbers& s : n.seats) {
        if (!second) {
            draw_pair(n, seed, first, of_pair, b);
            of_pair += groups_a_pair;
        }
        draw_runout(s, seed, first, group, second, b);
        draw_sizes(s, seed, first, group, n.judged, second, b);
        group += groups_a_seat;
        second = !second;
        count(out.figures[s.kind], b.runout, many, -huge, s.runout_max, b);
        count(out.figures[kinds + s.kind], b.width, many, -s.width_tol, s.width_tol, b);
        count(out.figures[2 * kinds + s.kind], b.height, many, s.low, s.high, b);
    }
    judge_spread(n, b);
    for (std::size_t i = 0; i < many; ++i) {
        const std::uint64_t good = b.bad[i] == 0 ? 1 : 0, pass = b.not_pass[i] == 0 ? 1 : 0,
                            fail = b.failed[i] != 0 ? 1 : 0;
        const std::uint64_t head = b.head[i];
        ++out.by_head[head];
        out.good_by_head[head] += good;
        out.good += good;
        out.pass += pass;
        out.fail += fail;
        out.consumer += pass & (1 - good);
        out.producer_fail += good & fail;
        out.producer_undecided += good & (1 - pass) & (1 - fail);
    }
    out.heads += many;
}

void add(Drawn& all, const Drawn& one) {
    all.heads += one.heads;
    all.good += one.good;
    all.pass += one.pass;
    all.fail += one.fail;
    all.consumer += one.consumer;
    all.producer_fail += one.producer_fail;
    all.producer_undecided += one.producer_undecided;
    for (std::size_t h = 0; h < all.by_head.size(); ++h) {
        all.by_head[h] += one.by_head[h];
        all.good_by_head[h] += one.good_by_head[h];
    }
    for (std::size_t f = 0; f < all.figures.size(); ++f) {
        DrawnFigure& to = all.figures[f];
        const DrawnFigure& from = one.figures[f];
        for (std::size_t i = 0; i < to.bars.size(); ++i) to.bars[i] += from.bars[i];
        to.n += from.n;
        to.within += from.within;
        to.sum += from.sum;
        to.squares += from.squares;
    }
}

}  // namespace

Drawn draw(const DrawTask& task) {
    const Numbers numbers = numbers_of(task.batch);
    const std::uint64_t blocks = (task.heads + lanes - 1) / lanes;
    std::atomic<std::uint64_t> next{0};
    const auto work = [&](Drawn& own, bool tells) {
        Block block(numbers);
        constexpr std::uint64_t stretch = 64;  // blocks taken at a time
        while (true) {
            const std::uint64_t from = next.fetch_add(stretch);
            if (from >= blocks || (task.stop && task.stop->load())) return;
            for (std::uint64_t k = from; k < std::min(blocks, from + stretch); ++k) {
                const std::uint64_t first = k * lanes;
                draw_block(numbers, task.seed, first,
                           static_cast<std::size_t>(std::min<std::uint64_t>(lanes, task.heads - first)),
                           block, own);
            }
            if (tells && task.progress) task.progress(std::min(task.heads, next.load() * lanes));
        }
    };
    const auto many = static_cast<std::size_t>(std::clamp<std::uint64_t>(
        static_cast<std::uint64_t>(std::max(1, task.threads)), 1, std::max<std::uint64_t>(1, blocks)));
    std::vector<Drawn> parts(many, empty(numbers));
    std::vector<std::thread> threads;
    threads.reserve(many);
    for (std::size_t t = 1; t < many; ++t) threads.emplace_back([&, t] { work(parts[t], false); });
    work(parts[0], true);
    for (auto& thread : threads) thread.join();
    Drawn out = std::move(parts[0]);
    for (std::size_t t = 1; t < many; ++t) add(out, parts[t]);
    return out;
}

}  // namespace seatwright::forecast
