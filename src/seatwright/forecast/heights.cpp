#include "seatwright/forecast/heights.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "seatwright/forecast/quadrature.hpp"

namespace seatwright::forecast {
namespace {

inline double between(const NormalTable& below, const Stem& stem, double low, double high) {
    if (high <= low) return 0;
    if (stem.sd <= 0) return low <= stem.mean && stem.mean <= high ? 1 : 0;
    return below((high - stem.mean) / stem.sd) - below((low - stem.mean) / stem.sd);
}

constexpr double height_tail = 5.5, tail_of_two = 5.7;

}  // namespace

double heights_good(std::span<const Stem> stems, double spread) {
    const NormalTable& below = normal_table();
    double each = 1;
    for (const Stem& stem : stems) each *= between(below, stem, stem.low, stem.high);
    if (!std::isfinite(spread) || stems.size() < 2 || each == 0) return each;
    double lowest = std::numeric_limits<double>::infinity(), highest = -lowest;
    double least = lowest, most = highest, widest = 0, narrowest = lowest;
    for (const Stem& s : stems) {
        lowest = std::min(lowest, s.mean - height_tail * s.sd);
        highest = std::max(highest, s.mean + height_tail * s.sd);
        least = std::min(least, s.mean);
        most = std::max(most, s.mean);
        widest = std::max(widest, s.sd);
        narrowest = std::min(narrowest, s.sd);
    }
    if (highest - lowest <= spread) return each;
    // No two of them ever too far apart, or two of them always.
    constexpr double of_two = tail_of_two * std::numbers::sqrt2;
    if (most - least + of_two * widest <= spread) return each;
    if (most - least - of_two * widest > spread) return 0;
    if (narrowest < widest)
        for (const Stem& a : stems)
            for (const Stem& b : stems)
                if (a.mean - b.mean - tail_of_two * std::sqrt(a.sd * a.sd + b.sd * b.sd) > spread) return 0;
    if (std::all_of(stems.begin(), stems.end(), [](const Stem& s) { return s.sd <= 0; })) {
        const auto [low, high] = std::minmax_element(
            stems.begin(), stems.end(), [](const Stem& a, const Stem& b) { return a.mean < b.mean; });
        return high->mean - low->mean <= spread ? each : 0;
    }
    // Where the lowest can lie: not above anyone's reach, nor so low that the highest is out of the spread.
    double from = -std::numeric_limits<double>::infinity(), to = std::numeric_limits<double>::infinity();
    double first = to, narrow = to;
    for (const Stem& s : stems) {
        from = std::max(from, s.mean - height_tail * s.sd - spread);
        to = std::min({to, s.mean + height_tail * s.sd, s.high});
        first = std::min(first, std::max(s.mean - height_tail * s.sd, s.low));
        if (s.sd > 0) narrow = std::min(narrow, s.sd);
    }
    from = std::max(from, first);
    if (to <= from) return 0;
    // Those that are neither the lowest nor out of the spread, wherever the lowest lies, need no asking.
    std::vector<Stem> near;
    near.reserve(stems.size());
    for (const Stem& s : stems)
        if (s.mean - height_tail * s.sd < std::max(to, s.low) ||
            s.mean + height_tail * s.sd > std::min(from + spread, s.high))
            near.push_back(s);
    std::vector<double> cuts{from, to};
    for (const Stem& s : near)
        for (const double at :
             {s.low, s.high - spread, s.sd <= 0 ? s.mean : s.low, s.sd <= 0 ? s.mean - spread : s.low})
            if (at > from && at < to) cuts.push_back(at);
    std::sort(cuts.begin(), cuts.end());
    cuts.erase(std::unique(cuts.begin(), cuts.end()), cuts.end());
    // Σ_i φ_i·Π_{j≠i} b_j by products from either end.
    std::vector<double> density(near.size()), inside(near.size());
    const auto at_lowest = [&](double x) {
        for (std::size_t i = 0; i < near.size(); ++i) {
            const Stem& s = near[i];
            const double z = s.sd > 0 ? (x - s.mean) / s.sd : 0;
            density[i] = s.sd <= 0 || x < s.low || x > s.high ? 0 : below.density(z) / s.sd;
            inside[i] = between(below, s, std::max(x, s.low), std::min(x + spread, s.high));
        }
        double sum = 0, before = 1;
        for (std::size_t i = 0; i < near.size(); ++i) {
            sum = sum * inside[i] + before * density[i];
            before *= inside[i];
        }
        return sum;
    };
    double sum = 0;
    // Pieces no wider than a few of the narrowest normal; the more seats, the sharper the lowest's density.
    constexpr double wide = 6, of_few = 4;
    const double piece = wide * narrow * std::sqrt(std::min(1.0, of_few / static_cast<double>(stems.size())));
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
        const int pieces = std::clamp(static_cast<int>(std::ceil((cuts[i + 1] - cuts[i]) / piece)), 1, 60);
        for (int p = 0; p < pieces; ++p) {
            const double width = (cuts[i + 1] - cuts[i]) / pieces;
            sum += integral<12>(cuts[i] + width * p, cuts[i] + width * (p + 1), at_lowest);
        }
    }
    // A seat known exactly may be the lowest itself.
    for (std::size_t i = 0; i < stems.size(); ++i) {
        if (stems[i].sd > 0 || stems[i].mean < stems[i].low || stems[i].mean > stems[i].high) continue;
        double one = 1;
        for (std::size_t j = 0; j < stems.size() && one > 0; ++j) {
            if (j == i) continue;
            const bool before = stems[j].sd <= 0 && j < i && stems[j].mean == stems[i].mean;
            one *= before ? 0.0
                          : between(below, stems[j], std::max(stems[i].mean, stems[j].low),
                                    std::min(stems[i].mean + spread, stems[j].high));
        }
        sum += one;
    }
    return std::clamp(sum, 0.0, each);
}

}  // namespace seatwright::forecast
