#include "seatwright/forecast/draw.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <boost/container/small_vector.hpp>
#include <cmath>
#include <memory>
#include <thread>

#include "seatwright/forecast/draw_numbers.hpp"
#include "seatwright/forecast/transforms.hpp"
#include "seatwright/forecast/vectors.hpp"

namespace seatwright::forecast {
namespace {

// What a head is found to be, a bit each.
enum Told : std::int32_t { bad = 1, not_pass = 2, failed = 4 };

using Marks = std::array<std::int32_t, lanes>;

constexpr int a_place = 10;  // bits of a place among the bars
static_assert(bars <= 1U << a_place);

// Of one figure, over the seats of a block: a lane a head, so that nothing hangs on the vector width.
struct FigureLanes {
    Lane sum, squares;
};

// Of one setup; whole cache lines, so that no vector lies over two of them.
struct alignas(64) SetupLanes {
    Lane tx, ty, th, ax, ay;
};
struct alignas(64) ZeroLane {
    Lane at;
};

// Everything of `lanes` heads.
struct Block {
    Words words, discs, rest;
    Lane read, next_read;  // errors of two seats' height readings
    Lane x, y, u, v, disc_x, disc_y, ring_x, ring_y, life;
    boost::container::small_vector<SetupLanes, 4> setup;  // more than these lie elsewhere
    boost::container::small_vector<ZeroLane, 4> zero;
    alignas(64) Marks told{};
    std::array<Lane, kinds> low, high, low_read, high_read;
    Lane runout;
    std::array<FigureLanes, figures> of_figure;
    alignas(64) Marks places{};  // among the bars of runouts, widths and heights
    std::int32_t runouts_out = 0, widths_out = 0, heights_out = 0;  // of a seat, beyond their limits
    alignas(64) WordLane good{};

    explicit Block(const Numbers& n) : setup(n.setups.size()), zero(n.zeros.size()) {}
};

// Where a value lies among a figure's bars.
struct Bars {
    float from, by;
    explicit Bars(const DrawnFigure& of)
        : from(static_cast<float>(of.low - of.offset)),
          by(static_cast<float>(static_cast<double>(bars) / (of.high - of.low))) {}
    // Clamped as whole numbers: the bits of floats from 0 on are in the floats' order, those below 0
    // negative. (Of floats clamped a compiler makes three comparisons and two choices of each clamp, to be
    // right for NaN.)
    std::int32_t operator()(float value) const {
        constexpr auto last = std::bit_cast<std::int32_t>(static_cast<float>(bars) - 1);
        const auto place = std::bit_cast<std::int32_t>((value - from) * by);
        return static_cast<std::int32_t>(std::bit_cast<float>(std::clamp(place, 0, last)));
    }
};

// Groups of counters: 0 … for what is shared, then two for each seat and two for each two of them: `discs`, a
// place in the disc of play each; `rest`, the height's reading (of one pair of normals one each) and the
// direction of the pilot's runout.
enum SeatGroup : std::uint32_t { miss_and_guide, sizes_and_reading, groups_a_seat };
enum PairGroup : std::uint32_t { of_discs, of_rest, groups_a_pair };

SEATWRIGHT_VECTORS
void draw_shared(const Numbers& n, std::uint64_t seed, std::uint64_t first, Block& b) {
    std::uint32_t group = 0;
    for (std::size_t s = 0; s < n.setups.size(); ++s) {
        const SetupNumbers setup = n.setups[s];  // nothing written below can change it
        philox(seed, first, group++, b.words);
        auto& [tx, ty, th, ax, ay] = b.setup[s];
        SEATWRIGHT_APART
        for (std::size_t i = 0; i < lanes; ++i) {
            float x = 0, y = 0, u = 0, v = 0;
            normal_pair(b.words.a[i], b.words.b[i], x, y);
            normal_pair(b.words.c[i], b.words.d[i], u, v);
            tx[i] = setup.pose[0][0] * x + setup.pose[0][1] * y + setup.pose[0][2] * u;
            ty[i] = setup.pose[1][0] * x + setup.pose[1][1] * y + setup.pose[1][2] * u;
            th[i] = setup.pose[2][0] * x + setup.pose[2][1] * y + setup.pose[2][2] * u;
        }
        if (setup.level <= 0) {
            ++group;
            ax.fill(0);
            ay.fill(0);
            continue;
        }
        philox(seed, first, group++, b.words);
        SEATWRIGHT_APART
        for (std::size_t i = 0; i < lanes; ++i) {
            float x = 0, y = 0;
            normal_pair(b.words.a[i], b.words.b[i], x, y);
            ax[i] = setup.level * x;
            ay[i] = setup.level * y;
        }
    }
    for (std::size_t z = 0; z < n.zeros.size(); z += 2) {
        philox(seed, first, group++, b.words);
        normals(b.words.a, b.words.b, b.x, b.y);
        for (std::size_t i = 0; i < lanes; ++i) b.zero[z].at[i] = n.zeros[z] * b.x[i];
        if (z + 1 < n.zeros.size())
            for (std::size_t i = 0; i < lanes; ++i) b.zero[z + 1].at[i] = n.zeros[z + 1] * b.y[i];
    }
}

SEATWRIGHT_VECTORS
void draw_pair(const Numbers& n, std::uint64_t seed, std::uint64_t first, std::uint32_t group, Block& b) {
    if (n.plays) philox(seed, first, group + of_discs, b.discs);
    philox(seed, first, group + of_rest, b.rest);
    if (n.judged) normals(b.rest.a, b.rest.b, b.read, b.next_read);
}

SEATWRIGHT_VECTORS
void draw_runout(const SeatNumbers& given, std::uint64_t seed, std::uint64_t first, std::uint32_t group,
                 bool second, Block& b) {
    const SeatNumbers s = given;
    const SetupLanes& held = b.setup[s.setup];
    const Lane &tx = held.tx, &ty = held.ty, &th = held.th, &ax = held.ax, &ay = held.ay;
    FigureLanes& figure = b.of_figure[s.kind];
    philox(seed, first, group + miss_and_guide, b.words);
    normals(b.words.a, b.words.b, b.x, b.y);
    normals(b.words.c, b.words.d, b.u, b.v);
    if (s.disc > 0)
        in_disc(second ? b.discs.c : b.discs.a, second ? b.discs.d : b.discs.b, b.disc_x, b.disc_y);
    if (s.ring > 0) directions_of(second ? b.rest.d : b.rest.c, b.ring_x, b.ring_y);
    const auto one = [&](std::size_t i, bool disc, bool ring) __attribute__((always_inline)) {
        const float mx = s.gain * (tx[i] - th[i] * s.py) + s.miss * b.x[i];
        const float my = s.gain * (ty[i] + th[i] * s.px) + s.miss * b.y[i];
        const std::int32_t told = mx * mx + my * my > s.room2 ? bad | not_pass | failed : 0;
        float x = s.reach * mx + s.lean * ax[i] + s.rx + s.guide * b.u[i];
        float y = s.reach * my + s.lean * ay[i] + s.ry + s.guide * b.v[i];
        if (disc) {
            x += s.disc * b.disc_x[i];
            y += s.disc * b.disc_y[i];
        }
        if (ring) {
            x += s.ring * b.ring_x[i];
            y += s.ring * b.ring_y[i];
        }
        const float runout = 2 * std::sqrt(x * x + y * y);
        const std::int32_t over = runout > s.runout_max ? 1 : 0;
        b.told[i] |= told | over;
        b.runout[i] = runout;
        figure.sum[i] += runout;
        figure.squares[i] += runout * runout;
        return over;
    };
    std::int32_t outside = 0;
    if (s.disc > 0 && s.ring > 0) {
        SEATWRIGHT_APART
        for (std::size_t i = 0; i < lanes; ++i) outside += one(i, true, true);
    } else if (s.disc > 0) {
        SEATWRIGHT_APART
        for (std::size_t i = 0; i < lanes; ++i) outside += one(i, true, false);
    } else if (s.ring > 0) {
        SEATWRIGHT_APART
        for (std::size_t i = 0; i < lanes; ++i) outside += one(i, false, true);
    } else {
        SEATWRIGHT_APART
        for (std::size_t i = 0; i < lanes; ++i) outside += one(i, false, false);
    }
    b.runouts_out = outside;
}

// 1/U; a gauge that errs by nothing divides by almost nothing.
float over_u(float u) {
    constexpr float least = 1e-9F;
    return 1 / std::max(2 * u, least);
}

// x, y: the seat's own two normals.
inline float height_of(const SeatNumbers& s, float ax, float ay, float zero, float x, float life) {
    return s.height + zero - (ax * s.zx + ay * s.zy) + s.height_sd * x + s.depth_slope * life;
}
inline float width_of(const SeatNumbers& s, float y, float life) {
    return s.width + s.width_sd * y + s.width_slope * life;
}

SEATWRIGHT_VECTORS
void draw_sizes(const SeatNumbers& given, const Bars& runout_into, const Bars& width_into,
                const Bars& height_into, std::uint64_t seed, std::uint64_t first, std::uint32_t group,
                bool judged, bool second, Block& b) {
    const SeatNumbers s = given;
    const Bars runout_place = runout_into, width_place = width_into, height_place = height_into;
    philox(seed, first, group + sizes_and_reading, b.words);
    normals(b.words.a, b.words.b, b.x, b.y);
    if (judged) normals(b.words.c, b.words.d, b.u, b.v);
    const Lane &ax = b.setup[s.setup].ax, &ay = b.setup[s.setup].ay, &zero = b.zero[s.zero].at;
    Lane &low = b.low[s.kind], &high = b.high[s.kind];
    FigureLanes &widths = b.of_figure[kinds + s.kind], &heights = b.of_figure[2 * kinds + s.kind];
    const float by_runout = over_u(s.runout_u), by_width = over_u(s.width_u), by_height = over_u(s.height_u);
    const Lane& error = second ? b.next_read : b.read;
    Lane &low_read = b.low_read[s.kind], &high_read = b.high_read[s.kind];
    std::int32_t widths_out = 0, heights_out = 0;
    const auto one = [&](std::size_t i, bool read) __attribute__((always_inline)) {
        const float height = height_of(s, ax[i], ay[i], zero[i], b.x[i], b.life[i]);
        const float width = width_of(s, b.y[i], b.life[i]);
        const bool off = (height < s.low) | (height > s.high), wide = std::abs(width) > s.width_tol;
        low[i] = std::min(low[i], height);
        high[i] = std::max(high[i], height);
        b.places[i] = runout_place(b.runout[i]) | (width_place(width) << a_place) |
                      (height_place(height) << (2 * a_place));
        widths.sum[i] += width;
        widths.squares[i] += width * width;
        heights.sum[i] += height;
        heights.squares[i] += height * height;
        widths_out += wide ? 1 : 0;
        heights_out += off ? 1 : 0;
        std::int32_t told = (off | wide) ? bad : 0;
        if (read) {
            const float runout = b.runout[i] + s.runout_u * b.u[i];
            const float wide_read = std::abs(width + s.width_u * b.v[i]);
            const float high_is = height + s.height_u * error[i];
            // How far beyond a limit, in U of its gauge; more than −1 is not inside by U, more than 1 is
            // outside.
            const float beyond =
                std::max(std::max((runout - s.runout_max) * by_runout, (wide_read - s.width_tol) * by_width),
                         std::max(s.low - high_is, high_is - s.high) * by_height);
            told |= (beyond > -1 ? not_pass : 0) | (beyond > 1 ? failed : 0);
            low_read[i] = std::min(low_read[i], high_is);
            high_read[i] = std::max(high_read[i], high_is);
        }
        b.told[i] |= told;
    };
    if (judged) {
        SEATWRIGHT_APART
        for (std::size_t i = 0; i < lanes; ++i) one(i, true);
    } else {
        SEATWRIGHT_APART
        for (std::size_t i = 0; i < lanes; ++i) one(i, false);
    }
    b.widths_out = widths_out;
    b.heights_out = heights_out;
}

SEATWRIGHT_VECTORS
void judge_spread(const Numbers& n, Block& b) {
    for (std::size_t k = 0; k < kinds; ++k)
        for (std::size_t i = 0; i < lanes; ++i) {
            const float spread = b.high[k][i] - b.low[k][i], read = b.high_read[k][i] - b.low_read[k][i];
            b.told[i] |= (spread > n.spread ? bad : 0) | (read > n.spread - n.spread_u ? not_pass : 0) |
                         (read > n.spread + n.spread_u ? failed : 0);
        }
}

// Counts of a stretch of blocks, short so that those of all figures stay near the processor; a row a figure.
using Counted = std::array<std::array<std::uint32_t, bars>, figures>;

// What one thread works on, in one place: apart, their addresses now and then fell so that the two drove each
// other out of the nearest cache (one start in ten was a tenth slower).
struct alignas(4096) Desk {
    Block block;
    Counted counted{};
    explicit Desk(const Numbers& n) : block(n) {}
};

// Three figures at a time: counts of one wait for each other where its values lie in one bar.
// By itself, so that the three tables keep a register each.
__attribute__((noinline)) void count(const Block& b, std::size_t many, std::uint32_t* __restrict runouts,
                                     std::uint32_t* __restrict widths, std::uint32_t* __restrict heights) {
    constexpr std::uint32_t one = (1U << a_place) - 1;
#pragma GCC unroll 8
    for (std::size_t i = 0; i < many; ++i) {
        const auto places = static_cast<std::uint32_t>(b.places[i]);
        ++runouts[places & one];
        ++widths[(places >> a_place) & one];
        ++heights[places >> (2 * a_place)];
    }
}

// Of a seat just drawn: what of `many` heads lies within its limits. Heads beyond them are taken off.
void add_within(const SeatNumbers& s, const Block& b, std::size_t many, DrawnFigure& runout,
                DrawnFigure& width, DrawnFigure& height) {
    std::int32_t runouts = b.runouts_out, widths = b.widths_out, heights = b.heights_out;
    const SetupLanes& held = b.setup[s.setup];
    for (std::size_t i = many; i < lanes; ++i) {
        const float high = height_of(s, held.ax[i], held.ay[i], b.zero[s.zero].at[i], b.x[i], b.life[i]);
        runouts -= b.runout[i] > s.runout_max ? 1 : 0;
        widths -= std::abs(width_of(s, b.y[i], b.life[i])) > s.width_tol ? 1 : 0;
        heights -= high < s.low || high > s.high ? 1 : 0;
    }
    const auto add = [&](DrawnFigure& figure, std::int32_t outside) {
        figure.n += many;
        figure.within += many - static_cast<std::uint64_t>(outside);
    };
    add(runout, runouts);
    add(width, widths);
    add(height, heights);
}

// Sums of `many` heads, eight side by side so that the order of adding does not hang on the vector width.
SEATWRIGHT_VECTORS
void add_lanes(FigureLanes& of, std::size_t many, DrawnFigure& figure) {
    constexpr std::size_t side = 8;
    for (std::size_t i = many; i < lanes; ++i) of.sum[i] = of.squares[i] = 0;
    alignas(64) std::array<double, side> sums{}, squares{};
    for (std::size_t i = 0; i < lanes; i += side)
        for (std::size_t k = 0; k < side; ++k) {
            sums[k] += static_cast<double>(of.sum[i + k]);
            squares[k] += static_cast<double>(of.squares[i + k]);
        }
    double sum = 0, square = 0;
    for (std::size_t k = 0; k < side; ++k) {
        sum += sums[k];
        square += squares[k];
    }
    figure.sum += std::llround(sum * fixed_point);
    figure.squares += std::llround(square * fixed_point);
}

// Verdicts of `many` heads, the first of them head `head` of its batch.
SEATWRIGHT_VECTORS
void add_told(Block& b, std::uint64_t head, std::size_t many, Drawn& out) {
    std::int32_t is_bad = 0, is_not_pass = 0, is_failed = 0, passed_bad = 0, failed_good = 0;
    for (std::size_t i = 0; i < many; ++i) {
        const std::int32_t told = b.told[i], bads = told & 1, nots = (told >> 1) & 1, fails = (told >> 2) & 1;
        b.good[i] = 1U - static_cast<std::uint32_t>(bads);
        is_bad += bads;
        is_not_pass += nots;
        is_failed += fails;
        passed_bad += bads & (1 - nots);
        failed_good += (1 - bads) & fails;
    }
    const auto of = [](std::int32_t n) { return static_cast<std::uint64_t>(n); };
    const std::uint64_t good = many - of(is_bad), pass = many - of(is_not_pass);
    out.good += good;
    out.pass += pass;
    out.fail += of(is_failed);
    out.consumer += of(passed_bad);
    out.producer_fail += of(failed_good);
    // Good and not passed: good less those both good and passed; who failed did not pass.
    out.producer_undecided += good - (pass - of(passed_bad)) - of(failed_good);
    out.heads += many;
    for (std::size_t i = 0; i < many; head = 0) {
        const std::size_t run = std::min<std::size_t>(many - i, out.by_head.size() - head);
        std::uint64_t* const all = out.by_head.data() + head;
        std::uint64_t* const well = out.good_by_head.data() + head;
        const std::uint32_t* const are = b.good.data() + i;
        for (std::size_t h = 0; h < run; ++h) {
            all[h] += 1;
            well[h] += are[h];
        }
        i += run;
    }
}

Drawn empty(const Numbers& n) {
    Drawn out;
    out.judged = n.judged;
    out.by_head.assign(n.heads, 0);
    out.good_by_head.assign(n.heads, 0);
    out.figures.assign(n.plan.begin(), n.plan.end());
    return out;
}

// An empty block whose first head is head `head` of its batch.
SEATWRIGHT_VECTORS
void begin(const Numbers& n, std::uint64_t head, Block& b) {
    // Heads since the blade was changed: with the batch it begins anew.
    std::uint64_t of_batch = head, life = head % n.life;
    for (std::size_t i = 0; i < lanes;) {
        const std::size_t run = std::min<std::uint64_t>({lanes - i, n.life - life, n.heads - of_batch});
        for (std::size_t k = 0; k < run; ++k)
            b.life[i + k] =
                static_cast<float>(static_cast<std::int32_t>(life) + static_cast<std::int32_t>(k));
        i += run;
        of_batch += run;
        life = life + run == n.life ? 0 : life + run;
        if (of_batch == n.heads) of_batch = life = 0;
    }
    for (std::size_t i = 0; i < lanes; ++i) b.told[i] = 0;
    for (std::size_t k = 0; k < kinds; ++k)
        for (std::size_t i = 0; i < lanes; ++i) {
            b.low[k][i] = b.low_read[k][i] = huge / 4;
            b.high[k][i] = b.high_read[k][i] = -huge / 4;
        }
    for (FigureLanes& of : b.of_figure)
        for (std::size_t i = 0; i < lanes; ++i) of.sum[i] = of.squares[i] = 0;
}

// Heads first … first + many − 1 into `out`.
void draw_block(const Numbers& n, std::uint64_t seed, std::uint64_t first, std::size_t many, Block& b,
                Counted& counted, Drawn& out) {
    const std::uint64_t head = first % n.heads;
    begin(n, head, b);
    draw_shared(n, seed, first, b);
    auto group = static_cast<std::uint32_t>(2 * n.setups.size() + (n.zeros.size() + 1) / 2);
    std::uint32_t of_pair = group + groups_a_seat * static_cast<std::uint32_t>(n.seats.size());
    bool second = false;
    for (const SeatNumbers& s : n.seats) {
        if (!second) {
            draw_pair(n, seed, first, of_pair, b);
            of_pair += groups_a_pair;
        }
        DrawnFigure &runout = out.figures[s.kind], &width = out.figures[kinds + s.kind],
                    &height = out.figures[2 * kinds + s.kind];
        draw_runout(s, seed, first, group, second, b);
        draw_sizes(s, Bars(runout), Bars(width), Bars(height), seed, first, group, n.judged, second, b);
        group += groups_a_seat;
        second = !second;
        count(b, many, counted[s.kind].data(), counted[kinds + s.kind].data(),
              counted[2 * kinds + s.kind].data());
        add_within(s, b, many, runout, width, height);
    }
    for (std::size_t f = 0; f < figures; ++f)
        if (!out.figures[f].bars.empty()) add_lanes(b.of_figure[f], many, out.figures[f]);
    judge_spread(n, b);
    add_told(b, head, many, out);
}

void add_counts(const Counted& counted, Drawn& out) {
    for (std::size_t f = 0; f < figures; ++f)
        for (std::size_t i = 0; i < out.figures[f].bars.size(); ++i) out.figures[f].bars[i] += counted[f][i];
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
        const auto desk = std::make_unique<Desk>(numbers);
        constexpr std::uint64_t stretch = 64;  // blocks taken at a time
        while (true) {
            const std::uint64_t from = next.fetch_add(stretch);
            if (from >= blocks || (task.stop && task.stop->load())) return;
            desk->counted = {};
            for (std::uint64_t k = from; k < std::min(blocks, from + stretch); ++k) {
                const std::uint64_t first = k * lanes;
                draw_block(numbers, task.seed, first,
                           static_cast<std::size_t>(std::min<std::uint64_t>(lanes, task.heads - first)),
                           desk->block, desk->counted, own);
            }
            add_counts(desk->counted, own);
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
