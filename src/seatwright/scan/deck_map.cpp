#include "seatwright/scan/deck_map.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numeric>
#include <optional>

namespace seatwright::scan {
namespace {

constexpr double in_square = 8, finest = 0.5, coarsest = 3;  // points; mm

// The mean over a square and its eight neighbours.
std::vector<double> smoothed(const DeckMap& map) {
    std::vector<double> out(static_cast<std::size_t>(map.wide()) * static_cast<std::size_t>(map.tall()));
    for (int y = 0; y < map.tall(); ++y)
        for (int x = 0; x < map.wide(); ++x) {
            double sum = 0;
            for (int v = std::max(0, y - 1); v <= std::min(map.tall() - 1, y + 1); ++v)
                for (int u = std::max(0, x - 1); u <= std::min(map.wide() - 1, x + 1); ++u)
                    sum += map.count(u, v);
            out[map.at(x, y)] = sum / 9;
        }
    return out;
}

// How many lie in the square of the middle one of all points: those few that lie there by chance, which light
// many squares, do not count.
double usual(const std::vector<double>& field) {
    // The field is ninths of whole numbers: how many squares hold each.
    std::vector<double> squares;
    for (const double f : field) {
        const auto k = static_cast<std::size_t>(std::lround(9 * f));
        if (k >= squares.size()) squares.resize(k + 1);
        ++squares[k];
    }
    const double half = std::accumulate(field.begin(), field.end(), 0.0) / 2;
    double sum = 0;
    for (std::size_t k = 0; k < squares.size(); ++k)
        if ((sum += squares[k] * static_cast<double>(k) / 9) >= half && squares[k] > 0)
            return static_cast<double>(k) / 9;
    return 0;
}

// Squares joined by their sides that are below the level; empty where they go on to the map's edge.
std::vector<std::size_t> open_about(const DeckMap& map, const std::vector<double>& field, double level,
                                    int column, int row) {
    std::vector<bool> seen(field.size());
    std::vector<std::pair<int, int>> todo{{column, row}};
    std::vector<std::size_t> out;
    seen[map.at(column, row)] = true;
    while (!todo.empty()) {
        const auto [x, y] = todo.back();
        todo.pop_back();
        if (x == 0 || y == 0 || x + 1 == map.wide() || y + 1 == map.tall()) return {};
        out.push_back(map.at(x, y));
        for (const auto& [dx, dy] : {std::pair{1, 0}, {-1, 0}, {0, 1}, {0, -1}}) {
            const auto next = map.at(x + dx, y + dy);
            if (seen[next] || field[next] >= level) continue;
            seen[next] = true;
            todo.emplace_back(x + dx, y + dy);
        }
    }
    return out;
}

double area_of(const std::vector<Vec2>& loop) {
    double twice = 0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2 &a = loop[i], &b = loop[(i + 1) % loop.size()];
        twice += a.x() * b.y() - a.y() * b.x();
    }
    return twice / 2;
}

// The line at `level` of a field given in the middles of squares, what is below on its left: the longest way
// round. Sides of the squares of middles are numbered: 2·middle along x, 2·middle + 1 along y.
class Contour {
  public:
    // `about`: the squares it goes round.
    Contour(const DeckMap& map, const std::vector<double>& field, double level,
            const std::vector<std::size_t>& about)
        : map_(map), field_(field), level_(level) {
        const auto wide = static_cast<std::size_t>(map.wide());
        int left = map.wide(), right = 0, low = map.tall(), high = 0;
        for (const auto k : about) {
            const int x = static_cast<int>(k % wide), y = static_cast<int>(k / wide);
            left = std::min(left, x - 1);
            right = std::max(right, x + 1);
            low = std::min(low, y - 1);
            high = std::max(high, y + 1);
        }
        for (int y = std::max(low, 0); y < std::min(high, map.tall() - 1); ++y)
            for (int x = std::max(left, 0); x < std::min(right, map.wide() - 1); ++x) square(x, y);
    }

    std::vector<Vec2> largest() {
        std::vector<Vec2> best;
        while (!next_.empty()) {
            std::vector<Vec2> loop;
            for (auto at = next_.begin(); at != next_.end(); at = next_.find(loop_end_)) {
                loop.push_back(place(at->first));
                loop_end_ = at->second;
                next_.erase(at);
            }
            if (best.empty() || area_of(loop) > area_of(best)) best = std::move(loop);
        }
        return best;
    }

  private:
    void square(int x, int y) {
        const std::array<std::size_t, 4> corner{map_.at(x, y), map_.at(x + 1, y), map_.at(x + 1, y + 1),
                                                map_.at(x, y + 1)};
        unsigned below = 0;
        for (unsigned k = 0; k < 4; ++k) below |= field_[corner[k]] < level_ ? 1U << k : 0U;
        if (below == 0 || below == 15) return;
        const std::array<std::size_t, 4> side{2 * corner[0], 2 * corner[1] + 1, 2 * corner[3],
                                              2 * corner[0] + 1};
        // From which side to which, what is below on the left; of two corners across each by itself.
        constexpr std::array<std::array<int, 2>, 16> way{{{0, 0},
                                                          {0, 3},
                                                          {1, 0},
                                                          {1, 3},
                                                          {2, 1},
                                                          {0, 3},
                                                          {2, 0},
                                                          {2, 3},
                                                          {3, 2},
                                                          {0, 2},
                                                          {1, 0},
                                                          {1, 2},
                                                          {3, 1},
                                                          {0, 1},
                                                          {3, 0},
                                                          {0, 0}}};
        const auto go = [&](int from, int to) {
            next_[side[static_cast<std::size_t>(from)]] = side[static_cast<std::size_t>(to)];
        };
        go(way[below][0], way[below][1]);
        if (below == 5) go(2, 1);
        if (below == 10) go(3, 2);
    }

    Vec2 place(std::size_t side) const {
        const std::size_t a = side / 2, b = a + (side % 2 == 0 ? 1 : static_cast<std::size_t>(map_.wide()));
        const double part = (level_ - field_[a]) / (field_[b] - field_[a]);
        const auto wide = static_cast<std::size_t>(map_.wide());
        const std::size_t column = a % wide, row = a / wide;
        const auto x = static_cast<double>(column), y = static_cast<double>(row);
        return side % 2 == 0 ? map_.middle(x + part, y) : map_.middle(x, y + part);
    }

    const DeckMap& map_;
    const std::vector<double>& field_;
    double level_;
    std::map<std::size_t, std::size_t> next_;
    std::size_t loop_end_ = 0;
};

// Corners left out that lie nearer than `within` to the line of those that stay.
void thin(std::vector<Vec2>& loop, double within) {
    if (loop.size() < 8) return;
    std::vector<bool> stays(loop.size() + 1);
    loop.push_back(loop.front());
    const std::size_t half = loop.size() / 2;
    std::vector<std::pair<std::size_t, std::size_t>> todo{{0, half}, {half, loop.size() - 1}};
    stays[0] = stays[half] = true;
    while (!todo.empty()) {
        const auto [a, b] = todo.back();
        todo.pop_back();
        const Vec2 way = (loop[b] - loop[a]).normalized();
        double far = within;
        std::size_t at = 0;
        for (std::size_t i = a + 1; i < b; ++i) {
            const Vec2 d = loop[i] - loop[a];
            const double off = std::abs(way.x() * d.y() - way.y() * d.x());
            if (off > far) {
                far = off;
                at = i;
            }
        }
        if (at == 0) continue;
        stays[at] = true;
        todo.emplace_back(a, at);
        todo.emplace_back(at, b);
    }
    std::vector<Vec2> out;
    for (std::size_t i = 0; i + 1 < loop.size(); ++i)
        if (stays[i]) out.push_back(loop[i]);
    loop = std::move(out);
}

}  // namespace

DeckMap::DeckMap(const Vec2& low, const Vec2& high, double density)
    : low_(low), cell_(std::clamp(std::sqrt(in_square / std::max(density, 1e-6)), finest, coarsest)) {
    constexpr double most = 4000;  // squares each way
    const Vec2 size = (high - low).cwiseMax(Vec2(0, 0));
    cell_ = std::max(cell_, size.maxCoeff() / most);
    in_one_ = 1 / cell_;
    wide_ = static_cast<int>(size.x() / cell_) + 1;
    tall_ = static_cast<int>(size.y() / cell_) + 1;
    counts_.assign(static_cast<std::size_t>(wide_) * static_cast<std::size_t>(tall_), 0);
}

int DeckMap::column(double x) const {
    const double k = (x - low_.x()) * in_one_;
    return k >= 0 && k < wide_ ? static_cast<int>(k) : -1;
}

int DeckMap::row(double y) const {
    const double k = (y - low_.y()) * in_one_;
    return k >= 0 && k < tall_ ? static_cast<int>(k) : -1;
}

std::vector<Opening> openings_of(const DeckMap& map, const std::vector<Vec2>& places) {
    std::vector<Opening> out;
    if (map.empty()) return out;
    const auto field = smoothed(map);
    const double full = usual(field), level = full / 2;
    if (full <= 0) return out;
    std::vector<bool> taken(places.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        const int column = map.column(places[i].x()), row = map.row(places[i].y());
        if (taken[i] || column < 0 || row < 0 || field[map.at(column, row)] >= level) continue;
        const auto squares = open_about(map, field, level, column, row);
        if (squares.empty()) continue;
        // Other openings are closed, so that the only edge left is this one's.
        std::vector<double> alone = field;
        for (auto& f : alone)
            if (f < level) f = full;
        for (const auto k : squares) alone[k] = field[k];
        Opening one;
        for (std::size_t k = i; k < places.size(); ++k) {
            const int u = map.column(places[k].x()), v = map.row(places[k].y());
            if (u < 0 || v < 0 || alone[map.at(u, v)] >= level) continue;
            taken[k] = true;
            one.places.push_back(k);
        }
        one.outline = Contour(map, alone, level, squares).largest();
        one.area = area_of(one.outline);
        // What the squares' size and the chance of who falls into them leave.
        one.u = map.cell() * std::hypot(1 / std::sqrt(12.0), 1 / std::sqrt(full));
        thin(one.outline, one.u / 4);
        if (one.outline.size() > 2) out.push_back(std::move(one));
    }
    return out;
}

}  // namespace seatwright::scan
