#include "seatwright/base/numerics/circle.hpp"

#include <Eigen/Cholesky>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>

#include "seatwright/base/numerics/reference_circles.hpp"

namespace seatwright::numerics {

namespace {

constexpr int most_steps = 200;
// A step below this share of the radius is rounding.
constexpr double settled = 1e-15;
constexpr int most_halvings = 40;
// Sums of squares nearer than this share are one.
constexpr double flat = 1e-12;
// Steps below this share of the radius may be rounding already.
constexpr double nearly = 1e-9;

TrueCircle measured(const std::vector<Vec2>& points, const Vec2& centre, double radius) {
    TrueCircle out{centre, radius, std::numeric_limits<double>::infinity(), 0};
    for (const auto& p : points) {
        const double d = (p - centre).norm();
        out.inner = std::min(out.inner, d);
        out.outer = std::max(out.outer, d);
    }
    return out;
}

// x² + y² = 2·a·x + 2·b·y + c, linear least squares about the mean point.
Solved<TrueCircle> algebraic(const std::vector<Vec2>& points) {
    Vec2 mean = Vec2::Zero();
    for (const auto& p : points) mean += p / static_cast<double>(points.size());
    Eigen::MatrixXd a(static_cast<Eigen::Index>(points.size()), 3);
    Eigen::VectorXd b(a.rows());
    double scale = 0;
    for (const auto& p : points) scale = std::max(scale, (p - mean).norm());
    if (scale == 0) return tl::unexpected(SolverError{"circle", 0, 0, "all points are one"});
    for (Eigen::Index i = 0; i < a.rows(); ++i) {
        const Vec2 q = (points[static_cast<std::size_t>(i)] - mean) / scale;
        a.row(i) << 2 * q.x(), 2 * q.y(), 1;
        b[i] = q.squaredNorm();
    }
    const Eigen::ColPivHouseholderQR<Eigen::MatrixXd> qr(a);
    if (qr.rank() < 3) return tl::unexpected(SolverError{"circle", 0, 0, "the points lie on one line"});
    const Eigen::Vector3d x = qr.solve(b);
    const double square = x[2] + x.head<2>().squaredNorm();
    return TrueCircle{mean + scale * x.head<2>(), scale * std::sqrt(std::max(square, 0.0)), 0, 0};
}

double sum_of_squares(const std::vector<Vec2>& points, const TrueCircle& c) {
    double sum = 0;
    for (const auto& p : points) sum += std::pow((p - c.centre).norm() - c.radius, 2);
    return sum;
}

// One Gauss-Newton step: centre and radius.
Eigen::Vector3d newton_step(const std::vector<Vec2>& points, const TrueCircle& c) {
    Eigen::MatrixXd j(static_cast<Eigen::Index>(points.size()), 3);
    Eigen::VectorXd e(j.rows());
    for (Eigen::Index i = 0; i < j.rows(); ++i) {
        const Vec2 q = points[static_cast<std::size_t>(i)] - c.centre;
        const double d = std::max(q.norm(), std::numeric_limits<double>::min());
        j.row(i) << q.x() / d, q.y() / d, 1;
        e[i] = d - c.radius;
    }
    return j.colPivHouseholderQr().solve(e);
}

double objective(const TrueCircle& c, Rim rim) {
    switch (rim) {
        case Rim::minimum_zone:
            return c.out_of_round();
        case Rim::circumscribed:
            return c.outer;
        case Rim::inscribed:
            return -c.inner;
    }
    return 0;
}

// Where the limaçon problem about `centre` puts the next centre.
Solved<Vec2> next_step(const std::vector<Vec2>& points, const Vec2& centre, Rim rim) {
    std::vector<double> angle, distance;
    angle.reserve(points.size());
    distance.reserve(points.size());
    for (const auto& p : points) {
        const Vec2 q = p - centre;
        angle.push_back(std::atan2(q.y(), q.x()));
        distance.push_back(q.norm());
    }
    const auto circles = reference_circles(turn_of(distance, angle));
    if (!circles) return tl::unexpected(circles.error());
    const auto& c = rim == Rim::minimum_zone    ? circles->mz
                    : rim == Rim::circumscribed ? circles->mc
                                                : circles->mi;
    return Vec2(c.x, c.y);
}

}  // namespace

Solved<TrueCircle> least_squares_circle(const std::vector<Vec2>& points) {
    if (points.size() < 3) return tl::unexpected(SolverError{"circle", 0, 0, "fewer than three points"});
    auto now = algebraic(points);
    if (!now) return now;
    double sum = sum_of_squares(points, *now), last_move = std::numeric_limits<double>::infinity();
    for (int step = 0; step < most_steps; ++step) {
        Eigen::Vector3d move = newton_step(points, *now);
        TrueCircle next = *now;
        bool gained = false;
        for (int half = 0; half < most_halvings && !gained; ++half) {
            if (half > 0) move /= 2;
            next = {now->centre + move.head<2>(), now->radius + move[2], 0, 0};
            const double left = sum_of_squares(points, next);
            gained = left <= sum * (1 + flat);
            if (gained) sum = left;
        }
        // Near the minimum the sum is flat to rounding long before the centre is: the step itself decides,
        // and it is rounding once it no longer shrinks.
        const double moved = move.norm();
        if (gained) *now = next;
        const bool rests =
            moved <= settled * now->radius || (moved < nearly * now->radius && 2 * moved >= last_move);
        if (!gained || rests) return measured(points, now->centre, now->radius);
        last_move = moved;
    }
    return tl::unexpected(SolverError{"circle", most_steps, std::sqrt(sum), "no convergence"});
}

Solved<TrueCircle> rim_circle(const std::vector<Vec2>& points, Rim rim) {
    const auto start = least_squares_circle(points);
    if (!start) return start;
    TrueCircle now = *start;
    for (int step = 0; step < most_steps; ++step) {
        const auto wanted = next_step(points, now.centre, rim);
        if (!wanted) return tl::unexpected(wanted.error());
        Vec2 move = *wanted;
        TrueCircle next = now;
        bool gained = false;
        for (int half = 0; half < most_halvings && !gained; ++half, move /= 2) {
            next = measured(points, now.centre + move, 0);
            gained = objective(next, rim) < objective(now, rim);
        }
        if (!gained || move.norm() <= settled * now.outer) {
            if (gained) now = next;
            now.radius = rim == Rim::minimum_zone    ? (now.inner + now.outer) / 2
                         : rim == Rim::circumscribed ? now.outer
                                                     : now.inner;
            return now;
        }
        now = next;
    }
    return tl::unexpected(SolverError{"reference circle", most_steps, objective(now, rim), "no convergence"});
}

}  // namespace seatwright::numerics
