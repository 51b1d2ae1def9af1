#include "seatwright/scan/off_deck.hpp"

#include <cmath>

#include "seatwright/base/numerics/median.hpp"
#include "seatwright/scan/chance.hpp"
#include "seatwright/scan/noise.hpp"
#include "seatwright/scan/parts.hpp"

namespace seatwright::scan {
namespace {

constexpr std::size_t for_bores = 200'000;
constexpr double highest = 60, deepest = -250, beside_deck = 15;  // mm about the deck

// One of every so many, each drawn within its own stretch of the file.
std::size_t nth(std::size_t i, std::size_t count, std::size_t size) {
    const std::size_t from = i * size / count, to = (i + 1) * size / count;
    return from + drawn_below(i, 5, std::max<std::size_t>(to - from, 1));
}

// Points a square millimetre, by the cells they fill.
double density_of(const std::vector<Vec2>& deck) {
    const auto n = static_cast<double>(deck.size());
    Vec2 low = deck.front(), high = low;
    for (const auto& p : deck) {
        low = low.cwiseMin(p);
        high = high.cwiseMax(p);
    }
    for (double cell = 1; cell < 40; cell *= 1.5) {
        const Vec2 size = (high - low) / cell;
        constexpr double most_cells = 1e7;
        const double wide = std::floor(size.x()) + 1;
        if (wide * (std::floor(size.y()) + 1) > most_cells) continue;
        std::vector<bool> filled(static_cast<std::size_t>(wide * (std::floor(size.y()) + 1)));
        double cells = 0;
        for (const auto& p : deck) {
            const Vec2 at = (p - low) / cell;
            const auto k = static_cast<std::size_t>(std::floor(at.y()) * wide + std::floor(at.x()));
            cells += filled[k] ? 0 : 1;
            filled[k] = true;
        }
        if (n > 6 * cells) return n / (cells * cell * cell);
    }
    return 0.01;
}

}  // namespace

OffDeck off_deck(const Points& cloud, const Pose& pose, double sd) {
    const std::size_t count = std::min(for_bores, cloud.size());
    const double band = band_sds * sd;
    std::vector<float> xs, ys;
    std::vector<Vec2> deck;
    const std::size_t looked = std::min<std::size_t>(count, 60000);
    for (std::size_t i = 0; i < looked; ++i) {
        const Vec3 p = pose.at(cloud[nth(i, looked, cloud.size())]);
        if (std::abs(p.z()) >= band) continue;
        deck.emplace_back(p.x(), p.y());
        xs.push_back(static_cast<float>(p.x()));
        ys.push_back(static_cast<float>(p.y()));
    }
    OffDeck out;
    if (deck.empty()) return out;
    const auto range = [](std::vector<float>& all) {
        const double low = numerics::value_at(all, 0.002), high = numerics::value_at(all, 0.998);
        return std::array{low - beside_deck, high + beside_deck};
    };
    const auto x = range(xs), y = range(ys);
    out.low = {x[0], y[0]};
    out.high = {x[1], y[1]};
    out.looked_at = static_cast<double>(count);
    out.density = density_of(deck) * static_cast<double>(count) / static_cast<double>(looked);
    const auto parts = parts_of(count);
    std::vector<std::vector<Point>> found(parts.size());
    in_parts(parts, [&](const Part& part) {
        auto& mine = found[part.number];
        mine.reserve(part.end - part.begin);
        for (std::size_t i = part.begin; i < part.end; ++i) {
            const Vec3 p = pose.at(cloud[nth(i, count, cloud.size())]);
            if (std::abs(p.z()) < band || p.z() > highest || p.z() < deepest || p.x() < x[0] ||
                p.x() > x[1] || p.y() < y[0] || p.y() > y[1])
                continue;
            mine.push_back({static_cast<float>(p.x()), static_cast<float>(p.y()), static_cast<float>(p.z())});
        }
    });
    std::size_t size = 0;
    for (const auto& part : found) size += part.size();
    out.points.reserve(size);
    for (auto& part : found) {
        out.points.insert(out.points.end(), part.begin(), part.end());
        std::vector<Point>().swap(part);
    }
    return out;
}

Points some_of(const Points& points, std::size_t count, double mm) {
    const std::size_t n = std::min(count, points.size());
    Points out(n);
    for (std::size_t i = 0; i < n; ++i) {
        const Point& p = points[nth(i, n, points.size())];
        const auto scaled = [&](float v) { return static_cast<float>(mm * static_cast<double>(v)); };
        out[i] = {scaled(p.x), scaled(p.y), scaled(p.z)};
    }
    return out;
}

}  // namespace seatwright::scan
