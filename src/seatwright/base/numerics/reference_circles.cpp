#include "seatwright/base/numerics/reference_circles.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cmath>
#include <numeric>

#include "seatwright/base/numerics/exchange.hpp"
#include "seatwright/base/units.hpp"
#include "seatwright/base/vec.hpp"

namespace seatwright::numerics {

namespace {

using Vec4 = Eigen::Vector4d;

// Constraint slack relative to the greatest |r|: a few thousand roundings of the sums that make it.
constexpr double slack_share = 1e-12;
// Random traces need under 20 exchanges; the cap only guards against a degenerate cycle.
constexpr int exchange_cap = 1000;
// A multiplier below this carries nothing: the optimum rests on the other two points.
constexpr double idle_multiplier = 1e-9;
// Angles nearer than this are one direction to the basis of an exchange.
constexpr double same_direction = 1e-9;

struct Violation {
    std::size_t index = 0;
    double violation = 0;
};

// minimise R subject to R + a·cos + b·sin ≥ sign·r.
struct Enclosing {
    const Turn& turn;
    double sign;
    Vec3 gradient(std::size_t i) const { return {1, turn.cos[i], turn.sin[i]}; }
    double level(std::size_t i) const { return sign * turn.r[i]; }
    Vec3 cost() const { return {1, 0, 0}; }
    Violation worst(const Vec3& x) const {
        Violation worst{0, -std::numeric_limits<double>::infinity()};
        for (std::size_t i = 0; i < turn.size(); ++i) {
            const double over = sign * turn.r[i] - (x[0] + x[1] * turn.cos[i] + x[2] * turn.sin[i]);
            if (over > worst.violation) worst = {i, over};
        }
        return worst;
    }
};

// minimise h subject to |r − R − a·cos − b·sin| ≤ h; x = (h, R, a, b); index i is the upper bound of point i,
// N + i its lower.
struct Zone {
    const Turn& turn;
    Vec4 gradient(std::size_t k) const {
        const auto n = turn.size();
        const std::size_t i = k < n ? k : k - n;
        const double side = k < n ? 1 : -1;
        return {1, side, side * turn.cos[i], side * turn.sin[i]};
    }
    double level(std::size_t k) const { return k < turn.size() ? turn.r[k] : -turn.r[k - turn.size()]; }
    Vec4 cost() const { return {1, 0, 0, 0}; }
    Violation worst(const Vec4& x) const {
        double high = -std::numeric_limits<double>::infinity(), low = -high;
        std::size_t at_high = 0, at_low = 0;
        for (std::size_t i = 0; i < turn.size(); ++i) {
            const double left = turn.r[i] - (x[1] + x[2] * turn.cos[i] + x[3] * turn.sin[i]);
            if (left > high) high = left, at_high = i;
            if (left < low) low = left, at_low = i;
        }
        return high >= -low ? Violation{at_high, high - x[0]} : Violation{turn.size() + at_low, -low - x[0]};
    }
};

ReferenceCircle measured(const Turn& turn, double radius, double x, double y) {
    double high = -std::numeric_limits<double>::infinity(), low = -high;
    for (std::size_t i = 0; i < turn.size(); ++i) {
        const double left = turn.r[i] - (x * turn.cos[i] + y * turn.sin[i]);
        high = std::max(high, left);
        low = std::min(low, left);
    }
    return {radius + turn.mean, x, y, high - low};
}

ReferenceCircle least_squares(const Turn& turn) {
    Mat3 gram = Mat3::Zero();
    for (std::size_t i = 0; i < turn.size(); ++i) {
        const Vec3 g(1, turn.cos[i], turn.sin[i]);
        gram += g * g.transpose();
    }
    const Eigen::LDLT<Mat3> factor(gram);
    Vec3 x = Vec3::Zero();
    // The second pass removes what the first left by squaring the condition number.
    for (int pass = 0; pass < 2; ++pass) {
        Vec3 moment = Vec3::Zero();
        for (std::size_t i = 0; i < turn.size(); ++i) {
            const Vec3 g(1, turn.cos[i], turn.sin[i]);
            moment += g * (turn.r[i] - g.dot(x));
        }
        x += factor.solve(moment);
    }
    return measured(turn, x[0], x[1], x[2]);
}

double around(double angle) {
    const double a = std::fmod(angle, 2 * pi);
    return a < 0 ? a + 2 * pi : a;
}

// The point furthest out and the two nearest its opposite, one on either side: their multipliers are ≥ 0.
Solved<std::array<std::size_t, 3>> enclosing_start(const Turn& turn, double sign) {
    std::size_t first = 0;
    for (std::size_t i = 1; i < turn.size(); ++i)
        if (sign * turn.r[i] > sign * turn.r[first]) first = i;
    std::size_t before = first, after = first;
    double nearest_before = -1, nearest_after = 2 * pi + 1;
    for (std::size_t i = 0; i < turn.size(); ++i) {
        const double offset = around(turn.angle[i] - turn.angle[first]);
        if (offset > same_direction && offset <= pi + same_direction) {
            if (offset > nearest_before) nearest_before = offset, before = i;
        } else if (offset > pi && offset < 2 * pi - same_direction && offset < nearest_after) {
            nearest_after = offset, after = i;
        }
    }
    if (before == first || after == first || nearest_after - nearest_before >= pi)
        return tl::unexpected(
            SolverError{"reference circles", 0, turn.widest_gap, "points of a half circle only"});
    return std::array{first, before, after};
}

struct Reach {
    double low = -std::numeric_limits<double>::infinity();
    double high = std::numeric_limits<double>::infinity();
};

// Centres along a line that keep every point at a level: where lever·t ≥ need for each.
template <class Need>
Reach within(const Turn& turn, const Vec2& across, const Need& need) {
    Reach reach;
    for (std::size_t i = 0; i < turn.size(); ++i) {
        const double lever = Vec2(turn.cos[i], turn.sin[i]).dot(across);
        if (std::abs(lever) < same_direction) continue;
        // A lever near nothing bounds nothing: the point lies on the line of the carriers.
        if (lever > 0) reach.low = std::max(reach.low, need(i) / lever);
        if (lever < 0) reach.high = std::min(reach.high, need(i) / lever);
    }
    return reach;
}

// Steps that each take a third off a stretch of centres: beyond the last bit of a double.
constexpr int thirds = 120;

// Two opposite points that alone carry the circle leave its centre free across their line, as rounded
// readings often do: of the circles that enclose every point the one of least out-of-round, and where that
// still leaves several the centre nearest the turning axis, so that the answer does not depend on where the
// trace starts.
Vec3 settle_sideways(const Turn& turn, double sign, const ExchangeResult<3>& found, double slack) {
    int idle = -1;
    for (int k = 0; k < 3; ++k)
        if (found.weights[k] < idle_multiplier) idle = k;
    if (idle < 0) return found.x;
    const std::size_t carrier = found.basis[idle == 0 ? 1 : 0];
    const Vec2 along(turn.cos[carrier], turn.sin[carrier]);
    const Vec2 across(-along.y(), along.x());
    const double reach = found.x.tail<2>().dot(along);
    const auto left = [&](std::size_t i, double t) {
        return sign * turn.r[i] - (reach * along + t * across).dot(Vec2(turn.cos[i], turn.sin[i]));
    };
    const Reach enclosed =
        within(turn, across, [&](std::size_t i) { return left(i, 0) - slack - found.x[0]; });
    if (!(enclosed.low <= enclosed.high) || !std::isfinite(enclosed.high - enclosed.low)) return found.x;
    // The innermost point's level is concave in t: greatest where the ring is narrowest.
    const auto innermost = [&](double t) {
        double least = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < turn.size(); ++i) least = std::min(least, left(i, t));
        return least;
    };
    double low = enclosed.low, high = enclosed.high;
    for (int step = 0; step < thirds && high > low; ++step) {
        const double third = (high - low) / 3;
        if (innermost(low + third) < innermost(high - third))
            low += third;
        else
            high -= third;
    }
    const double level = innermost((low + high) / 2) - slack;
    const Reach best = within(turn, -across, [&](std::size_t i) { return level - left(i, 0); });
    const double from = std::max(enclosed.low, best.low), to = std::min(enclosed.high, best.high);
    const double t = from <= to ? std::clamp(0.0, from, to) : (low + high) / 2;
    const Vec2 centre = reach * along + t * across;
    return {found.x[0], centre.x(), centre.y()};
}

Solved<ReferenceCircle> enclosing(const Turn& turn, double sign, double slack) {
    const auto start = enclosing_start(turn, sign);
    if (!start) return tl::unexpected(start.error());
    const auto found = exchange<3>(Enclosing{turn, sign}, *start, slack, exchange_cap);
    if (!found) return tl::unexpected(found.error());
    const Vec3 x = sign * settle_sideways(turn, sign, *found, slack);
    return measured(turn, x[0], x[1], x[2]);
}

// Four directions spread over the turn, taken as high, low, high, low: by the Haar property of 1, cos, sin
// their multipliers have one sign.
Solved<std::array<std::size_t, 4>> zone_start(const Turn& turn) {
    std::vector<std::size_t> order(turn.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(),
              [&](std::size_t i, std::size_t j) { return around(turn.angle[i]) < around(turn.angle[j]); });
    std::vector<std::size_t> distinct;
    for (const std::size_t i : order)
        if (distinct.empty() || around(turn.angle[i]) - around(turn.angle[distinct.back()]) > same_direction)
            distinct.push_back(i);
    const auto m = distinct.size();
    if (m < 4) return tl::unexpected(SolverError{"reference circles", 0, 0, "fewer than four directions"});
    const auto n = turn.size();
    return std::array{distinct[0], n + distinct[m / 4], distinct[m / 2], n + distinct[3 * m / 4]};
}

Solved<ReferenceCircle> zone(const Turn& turn, double slack) {
    const auto start = zone_start(turn);
    if (!start) return tl::unexpected(start.error());
    const auto found = exchange<4>(Zone{turn}, *start, slack, exchange_cap);
    if (!found) return tl::unexpected(found.error());
    return measured(turn, found->x[1], found->x[2], found->x[3]);
}

}  // namespace

Solved<ReferenceCircles> reference_circles(const Turn& turn) {
    double scale = 0;
    for (const double r : turn.r) scale = std::max(scale, std::abs(r));
    const double slack = slack_share * scale;
    const auto mz = zone(turn, slack);
    if (!mz) return tl::unexpected(mz.error());
    const auto mc = enclosing(turn, 1, slack);
    if (!mc) return tl::unexpected(mc.error());
    const auto mi = enclosing(turn, -1, slack);
    if (!mi) return tl::unexpected(mi.error());
    return ReferenceCircles{least_squares(turn), *mz, *mc, *mi};
}

}  // namespace seatwright::numerics
