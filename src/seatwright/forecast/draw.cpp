#include "seatwright/forecast/draw.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <thread>

#include "seatwright/forecast/draw_numbers.hpp"
#include "seatwright/forecast/transforms.hpp"
#include "seatwright/forecast/vectors.hpp"

namespace seatwright::forecast {
namespace {

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
    const float from = static_cast<float>(figure.low - figure.offset), by = static_cast<float>(scale);
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
