#include "seatwright/forecast/characteristics.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "seatwright/forecast/single.hpp"
#include "seatwright/forecast/spread.hpp"
#include "seatwright/job/kind_index.hpp"

namespace seatwright::forecast {
namespace {

constexpr int most_heads = 64;  // of a blade's life that are told apart
constexpr int histogram_bars = 40;
constexpr double edge = 0.0005;

template <class Below>
void histogram(Characteristic& out, double low, double high, const Below& below) {
    if (!(high > low)) return;
    double before = below(low);
    for (int i = 0; i < histogram_bars; ++i) {
        const double from = low + (high - low) * i / histogram_bars,
                     to = low + (high - low) * (i + 1) / histogram_bars;
        const double at = below(to);
        out.bars.push_back({from, to, at - before});
        before = at;
    }
}

void capability(Characteristic& out) {
    constexpr double rounding = 1e-9;  // mm: a figure that varies no more does not vary
    if (!out.mean || out.sd <= rounding || (!out.limit_low && !out.limit_high)) return;
    double least = std::numeric_limits<double>::infinity();
    if (out.limit_high) least = std::min(least, *out.limit_high - *out.mean);
    if (out.limit_low) least = std::min(least, *out.mean - *out.limit_low);
    out.cpk = least / (3 * out.sd);
}

Displaced displaced(const Batch& b, const Seat& seat) {
    const double sine = std::sin(seat.angle), half = seat.gauge / 2 * std::cos(seat.angle);
    const double reach = seat.bend * sine + half * (1 - b.share) * seat.bend * seat.bend_slope;
    const double lean = half * b.share, gain = b.gain(seat), own = b.own_sd(seat);
    const Held& held = b.setups[seat.setup];
    Eigen::Matrix<double, 2, 3> by;
    by << 1, 0, -seat.from_posts.y(), 0, 1, seat.from_posts.x();
    const double round = own * own + b.positioning_sd * b.positioning_sd;
    const double leans = held.level_sd * held.level_sd + b.guide_angle_sd * b.guide_angle_sd;
    Displaced out;
    out.centre = lean * seat.residual;
    out.covariance =
        reach * reach * (gain * gain * by * held.pose * by.transpose() + round * Mat2::Identity()) +
        lean * lean * leans * Mat2::Identity();
    out.disc = seat.play * sine;
    out.ring = seat.pilot_runout / 2 * sine;
    return out;
}

Characteristic runout(const Batch& b, job::Kind kind) {
    Characteristic out{"runout", kind, {}, {}, {}, {}, 0, {}, {}, {}, {}, {}};
    std::vector<Displaced> parts;
    for (const Seat& seat : b.seats)
        if (seat.kind == kind) {
            parts.push_back(displaced(b, seat));
            out.limit_high = seat.runout_max;
        }
    const LengthSpread spread(std::move(parts));
    out.mean = 2 * spread.mean();
    out.sd = std::sqrt(std::max(0.0, 4 * spread.square() - *out.mean * *out.mean));
    out.p05 = 2 * spread.quantile(0.05);
    out.p50 = 2 * spread.quantile(0.50);
    out.p95 = 2 * spread.quantile(0.95);
    if (out.limit_high) out.pass_rate = spread.below(*out.limit_high / 2);
    histogram(out, 0, 2 * spread.quantile(1 - edge), [&](double x) { return spread.below(x / 2); });
    capability(out);
    return out;
}

// Heads since the blade was new with how often each comes in the batch; long lives in stretches. Where
// nothing wears all heads are alike.
std::vector<std::pair<double, double>> lives(const Batch& b, double wear) {
    if (wear == 0) return {{0.0, std::max(1.0, static_cast<double>(b.heads))}};
    const int life = std::max(1, std::min(b.heads, b.change_every.value_or(b.heads)));
    const int steps = std::min(life, most_heads);
    std::vector<std::pair<double, double>> out;
    for (int i = 0; i < steps; ++i) {
        const int from = static_cast<int>(static_cast<long long>(life) * i / steps),
                  to = static_cast<int>(static_cast<long long>(life) * (i + 1) / steps);
        double times = 0;
        for (int x = from; x < to; ++x) {
            const int whole = b.heads / life;
            times += whole + (x < b.heads % life ? 1 : 0);
        }
        out.emplace_back((from + to - 1) / 2.0, times);
    }
    return out;
}

template <class Mean>
Characteristic normal(const Batch& b, const char* what, job::Kind kind, const Window& window, double wear,
                      const Mean& mean_and_sd) {
    Characteristic out{what, kind, {}, {}, {}, {}, 0, window.low, window.high, {}, {}, {}};
    NormalMix mix;
    double good = 0, all = 0;
    for (const auto& [head, times] : lives(b, wear))
        for (const Seat& seat : b.seats) {
            if (seat.kind != kind) continue;
            const auto [mean, sd] = mean_and_sd(seat, head);
            mix.add(mean, sd, times);
            good += times * single_chance(mean, sd, window, std::nullopt, Judged::good);
            all += times;
        }
    if (mix.empty()) return out;
    out.mean = mix.mean();
    out.sd = mix.sd();
    out.p05 = mix.quantile(0.05);
    out.p50 = mix.quantile(0.50);
    out.p95 = mix.quantile(0.95);
    if (all > 0 && !window.open()) out.pass_rate = good / all;
    histogram(out, mix.quantile(edge), mix.quantile(1 - edge), [&](double x) { return mix.below(x); });
    capability(out);
    return out;
}

double worn_by(const Seat& seat, double head) {
    return head * seat.seats_of_cutter + seat.place;
}

Characteristic width(const Batch& b, job::Kind kind, const Seat& any) {
    Window window;
    if (any.width_tol) window = {any.width - *any.width_tol, any.width + *any.width_tol};
    return normal(b, "width", kind, window, b.width_wear, [&](const Seat& seat, double head) {
        return std::pair(seat.width + seat.width_off + b.width_wear * worn_by(seat, head), b.width_sd);
    });
}

Characteristic height(const Batch& b, job::Kind kind, const Seat& any) {
    Window window;
    for (const Seat& seat : b.seats)
        if (seat.kind == kind && !seat.height.open()) window = seat.height;
    auto out = normal(b, "stem height", kind, window, b.depth_wear, [&](const Seat& seat, double head) {
        const double level = b.setups[seat.setup].level_sd * seat.from_zero.norm();
        const double zero = b.zeros[seat.zero];
        return std::pair(
            seat.planned_height.value_or(0) + b.depth_wear * worn_by(seat, head),
            std::sqrt(level * level + zero * zero + b.height_sd * b.height_sd + b.depth_sd * b.depth_sd));
    });
    // Without a planned height nothing is said of where they lie.
    if (!any.planned_height) {
        out.mean = out.p05 = out.p50 = out.p95 = out.cpk = std::nullopt;
        out.bars.clear();
    }
    return out;
}

}  // namespace

std::vector<Characteristic> characteristics_of(const MadeBatch& made) {
    const Batch& b = made.batch;
    std::vector<Characteristic> out;
    const auto first = [&](job::Kind kind) {
        return std::find_if(b.seats.begin(), b.seats.end(), [&](const Seat& s) { return s.kind == kind; });
    };
    for (const auto kind : job::both_kinds)
        if (first(kind) != b.seats.end()) out.push_back(runout(b, kind));
    for (const auto kind : job::both_kinds)
        if (const auto any = first(kind); any != b.seats.end()) out.push_back(width(b, kind, *any));
    for (const auto kind : job::both_kinds)
        if (const auto any = first(kind); any != b.seats.end()) out.push_back(height(b, kind, *any));
    return out;
}

void take_figures(std::vector<Characteristic>& characteristics, const Drawn& drawn) {
    for (Characteristic& c : characteristics) {
        const std::size_t what = c.what == "runout" ? 0 : c.what == "width" ? 1 : 2;
        const std::size_t at = 2 * what + index_of(c.kind);
        if (at >= drawn.figures.size() || drawn.figures[at].n == 0) continue;
        const DrawnFigure& figure = drawn.figures[at];
        const double n = static_cast<double>(figure.n);
        const double mean = static_cast<double>(figure.sum) / fixed_point / n;
        c.sd = std::sqrt(std::max(0.0, static_cast<double>(figure.squares) / fixed_point / n - mean * mean));
        if (c.pass_rate) c.pass_rate = static_cast<double>(figure.within) / n;
        if (!c.mean) continue;
        c.mean = figure.offset + mean;
        const double wide = (figure.high - figure.low) / static_cast<double>(figure.bars.size());
        const auto quantile = [&](double p) {
            double below = 0;
            for (std::size_t i = 0; i < figure.bars.size(); ++i) {
                const double here = static_cast<double>(figure.bars[i]) / n;
                if (below + here >= p)
                    return figure.low + wide * (static_cast<double>(i) + (here > 0 ? (p - below) / here : 0));
                below += here;
            }
            return figure.high;
        };
        c.p05 = quantile(0.05);
        c.p50 = quantile(0.50);
        c.p95 = quantile(0.95);
        c.cpk = std::nullopt;
        capability(c);
        // The bars of the drawing, as coarse as those integrated.
        for (Characteristic::Bar& bar : c.bars) {
            double share = 0;
            for (std::size_t i = 0; i < figure.bars.size(); ++i) {
                const double from = figure.low + wide * static_cast<double>(i), to = from + wide;
                const double common = std::min(to, bar.to) - std::max(from, bar.from);
                if (common > 0) share += static_cast<double>(figure.bars[i]) / n * common / wide;
            }
            bar.share = share;
        }
    }
}

}  // namespace seatwright::forecast
