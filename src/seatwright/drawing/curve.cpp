#include "seatwright/drawing/curve.hpp"

#include <Eigen/Geometry>

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "seatwright/base/units.hpp"

namespace seatwright::drawing {
namespace {

// Pieces on one curve differ by no more, as a part of its size; arcs by bulges carry their rounding.
constexpr double same_curve = 1e-4;
// What pieces may leave open of a turn, rad.
constexpr double open_turn = 2e-3;

struct Span {
    double from = 0, to = 0;
};

// Whether the spans cover a turn; each within [0, 2π) and, where it passes there, cut in two.
bool all_round(std::vector<Span> spans) {
    std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) { return a.from < b.from; });
    double reached = 0;
    for (const auto& s : spans) {
        if (s.from > reached + open_turn) return false;
        reached = std::max(reached, s.to);
    }
    return reached >= 2 * pi - open_turn;
}

void add_turned(std::vector<Span>& spans, double from, double to) {
    const double length = to - from;
    if (length >= 2 * pi) {
        spans.push_back({0, 2 * pi});
        return;
    }
    from -= 2 * pi * std::floor(from / (2 * pi));
    to = from + length;
    spans.push_back({from, std::min(to, 2 * pi)});
    if (to > 2 * pi) spans.push_back({0, to - 2 * pi});
}

bool is_circle(const Curve& c) {
    const double a = c.p.squaredNorm(), b = c.q.squaredNorm();
    return std::abs(a - b) <= 1e-9 * (a + b) && std::abs(c.p.dot(c.q)) <= 1e-9 * (a + b);
}

// The same curve with the piece's own parameter told in the parameter of `base`: of circles in one plane.
struct CurveTold {
    bool same = false;
    double from = 0, to = 0;
};

CurveTold told_in(const Piece& piece, const Curve& base) {
    const Curve& c = piece.of;
    const double size = std::max(base.p.norm(), base.q.norm());
    const double near = same_curve * size;
    if ((c.centre - base.centre).norm() > near) return {};
    if (is_circle(c) && is_circle(base)) {
        if (std::abs(c.p.norm() - base.p.norm()) > near) return {};
        const Vec3 mine = c.p.cross(c.q).normalized(), its = base.p.cross(base.q).normalized();
        const double facing = mine.dot(its);
        if (std::abs(facing) < 1 - same_curve) return {};
        // Where the piece begins (or, turning the other way, ends), in the base's own angle.
        const double t = facing > 0 ? piece.from : piece.to;
        const Vec3 start = c.p * std::cos(t) + c.q * std::sin(t);
        const double at = std::atan2(start.dot(base.q), start.dot(base.p));
        return {true, at, at + (piece.to - piece.from)};
    }
    if ((c.p - base.p).norm() < near && (c.q - base.q).norm() < near) return {true, piece.from, piece.to};
    if ((c.p + base.p).norm() < near && (c.q + base.q).norm() < near)
        return {true, piece.from + pi, piece.to + pi};
    return {};
}

struct Set {
    Curve base;
    std::vector<Span> spans;
};

// Sets by where they lie and how large they are, each in a cell wider than what pieces of one curve differ
// by: a drawing may hold very many arcs.
class Sets {
  public:
    void add(const Piece& piece) {
        const double size = std::max(piece.of.p.norm(), piece.of.q.norm());
        if (!(size > 0) || !(piece.to > piece.from)) return;
        const Cell home{piece.of.layer, bucket(std::log(size), size_step),
                        bucket(piece.of.centre.x() / size, place_step),
                        bucket(piece.of.centre.y() / size, place_step)};
        for (int k = 0; k < 27; ++k) {
            Cell cell = home;
            std::get<1>(cell) += k % 3 - 1;
            std::get<2>(cell) += k / 3 % 3 - 1;
            std::get<3>(cell) += k / 9 - 1;
            const auto at = grid_.find(cell);
            if (at == grid_.end()) continue;
            for (const auto s : at->second) {
                if (++looked_ > most_looks) break;
                const auto told = told_in(piece, sets_[s].base);
                if (!told.same) continue;
                add_turned(sets_[s].spans, told.from, told.to);
                return;
            }
        }
        grid_[home].push_back(sets_.size());
        sets_.push_back({piece.of, {}});
        add_turned(sets_.back().spans, piece.from, piece.to);
    }

    std::vector<Curve> whole() {
        std::vector<Curve> out;
        for (auto& set : sets_)
            if (all_round(std::move(set.spans))) out.push_back(std::move(set.base));
        return out;
    }

  private:
    using Cell = std::tuple<std::string, long long, long long, long long>;
    static constexpr double size_step = 1e-3, place_step = 1e-2;
    // No drawing of a head comes near; arcs heaped on one place stay pieces beyond it.
    static constexpr std::size_t most_looks = 50'000'000;

    static long long bucket(double v, double step) {
        constexpr double most = 1e15;
        return static_cast<long long>(std::floor(std::clamp(v / step, -most, most)));
    }

    std::map<Cell, std::vector<std::size_t>> grid_;
    std::vector<Set> sets_;
    std::size_t looked_ = 0;
};

}  // namespace

std::vector<Curve> joined(const std::vector<Piece>& pieces) {
    Sets sets;
    for (const auto& piece : pieces) sets.add(piece);
    return sets.whole();
}

Mat3 own_plane(const Vec3& normal) {
    const double size = normal.norm();
    const Vec3 z = size > 0 ? Vec3(normal / size) : Vec3(Vec3::UnitZ());
    constexpr double near_z = 1.0 / 64;
    const bool along = std::abs(z.x()) < near_z && std::abs(z.y()) < near_z;
    const Vec3 x = (along ? Vec3(Vec3::UnitY()) : Vec3(Vec3::UnitZ())).cross(z).normalized();
    Mat3 out;
    out << x, z.cross(x).normalized(), z;
    return out;
}

bool arc_of(const Vec2& a, const Vec2& b, double bulge, Arc& arc) {
    const Vec2 chord = b - a;
    const double length = chord.norm();
    if (!(length > 0) || !(std::abs(bulge) > 1e-12)) return false;
    arc.radius = length * (1 + bulge * bulge) / (4 * std::abs(bulge));
    const Vec2 left(-chord.y(), chord.x());
    arc.centre = (a + b) / 2 + left * ((1 - bulge * bulge) / (4 * bulge));
    const Vec2 start = bulge > 0 ? Vec2(a - arc.centre) : Vec2(b - arc.centre);
    arc.from = std::atan2(start.y(), start.x());
    arc.to = arc.from + 4 * std::atan(std::abs(bulge));
    return std::isfinite(arc.radius) && arc.centre.allFinite();
}

}  // namespace seatwright::drawing
