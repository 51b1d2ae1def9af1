#include "seatwright/scan/cylinder.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "seatwright/scan/noise.hpp"

namespace seatwright::scan {

namespace {

struct Sums {
    FiveByFive jj = FiveByFive::Zero();
    Five jr = Five::Zero();
    double count = 0;
};

// Squares of the least and the greatest distance from the axis within a band of the wall: no root for those
// beyond.
std::pair<double, double> squares_within(double radius, double band) {
    const double nearest = std::max(radius - band, 0.0), furthest = radius + band;
    return {nearest * nearest, furthest * furthest};
}

// `soft`: points count the less the further off they are, half at that distance; 0: all alike.
Sums sums_of(const std::vector<Point>& points, const Cylinder& c, const Across& frame, double band,
             double soft) {
    Sums out;
    // The lower half of j·jᵀ, row by row.
    std::array<double, 15> jj{};
    std::array<double, 5> jr{};
    const auto [least, most] = squares_within(c.radius, band);
    for (const auto& p : points) {
        const Vec3 d = p.vec() - c.at;
        const double z = c.axis.dot(d);
        if (z < c.low || z > c.high) continue;
        const double x = frame.u.dot(d), y = frame.v.dot(d), square = x * x + y * y;
        if (square <= least || square >= most) continue;
        const double rho = std::sqrt(square), off = rho - c.radius, in_one = 1 / rho;
        const double cos = x * in_one, sin = y * in_one;
        const std::array<double, 5> j{cos, sin, z * cos, z * sin, 1};
        const double weight = soft > 0 ? 1 / (1 + off * off / (soft * soft)) : 1;
        std::size_t at = 0;
        for (std::size_t row = 0; row < j.size(); ++row) {
            const double w = weight * j[row];
            for (std::size_t column = 0; column <= row; ++column) jj[at++] += w * j[column];
            jr[row] += w * off;
        }
        ++out.count;
    }
    std::size_t at = 0;
    for (int row = 0; row < 5; ++row) {
        for (int column = 0; column <= row; ++column) out.jj(row, column) = out.jj(column, row) = jj[at++];
        out.jr[row] = jr[static_cast<std::size_t>(row)];
    }
    return out;
}

std::vector<double> distances_of(const std::vector<Point>& points, const Cylinder& c, double widest) {
    std::vector<double> out;
    out.reserve(points.size());
    const auto [least, most] = squares_within(c.radius, widest);
    for (const auto& p : points) {
        const Vec3 d = p.vec() - c.at;
        const double z = c.axis.dot(d), square = d.squaredNorm() - z * z;
        if (z < c.low || z > c.high || square < least || square > most) continue;
        const double off = std::sqrt(std::max(square, 0.0)) - c.radius;
        if (std::abs(off) < widest) out.push_back(off);
    }
    return out;
}

}  // namespace

Across across(const Vec3& axis) {
    const Vec3 least = std::abs(axis.x()) < 0.9 ? Vec3(Vec3::UnitX()) : Vec3(Vec3::UnitY());
    const Vec3 v = axis.cross(least).normalized();
    return {v.cross(axis), v};
}

std::optional<CylinderFit> fit_cylinder(const std::vector<Point>& points, const Cylinder& from, double widest,
                                        bool held, Start start) {
    constexpr double least_count = 12, settled = 1e-8;
    CylinderFit out;
    Cylinder c = from;
    c.at += c.axis * (c.low + c.high) / 2;
    c.low = -from.length() / 2;
    c.high = from.length() / 2;
    double band = widest;
    const int soft_steps = start == Start::near ? 0 : 5, bands_rest = soft_steps + 4;
    const int most_steps = start == Start::trial ? bands_rest : 25;
    for (int step = 0; step < most_steps; ++step) {
        const Across frame = across(c.axis);
        const bool soft = step < soft_steps;
        if (!soft && step < bands_rest) {
            const Noise noise = noise_of(distances_of(points, c, widest), widest);
            if (noise.count < least_count) return std::nullopt;
            out.sd = noise.sd;
            out.among = noise.among;
            band = band_sds * noise.sd;
        }
        const Sums s = sums_of(points, c, frame, soft ? 2 * widest : band, soft ? widest / 4 : 0);
        if (s.count < least_count) return std::nullopt;
        FiveByFive jj = s.jj;
        Five jr = s.jr;
        if (held)
            for (const int k : {2, 3}) {
                jj.row(k).setZero();
                jj.col(k).setZero();
                jj(k, k) = s.count;
                jr[k] = 0;
            }
        const Eigen::LDLT<FiveByFive> solver(jj);
        const Five change = solver.solve(jr);
        // A part of a turn too small leaves place and radius open.
        if (solver.info() != Eigen::Success || !solver.isPositive() || !change.allFinite() ||
            change.head<2>().norm() > 2 + from.radius || change.segment<2>(2).norm() > 0.5)
            return std::nullopt;
        c.at += frame.u * change[0] + frame.v * change[1];
        c.axis = (c.axis + frame.u * change[2] + frame.v * change[3]).normalized();
        c.radius += change[4];
        if (c.radius <= 0) return std::nullopt;
        out.cylinder = c;
        out.frame = frame;
        out.information = s.jj;
        out.count = s.count;
        if (step >= soft_steps + 3 && change.cwiseAbs().maxCoeff() < settled) break;
    }
    return out;
}

}  // namespace seatwright::scan
