// Surfaces in closed form, and points on them as a scanner gives them: even over what there is, or where a
// ray from the scanner falls first (its shadow). An own generator: no mesh, so no chord error. mm, rad.
#pragma once

#include <cmath>
#include <functional>
#include <limits>
#include <optional>
#include <random>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/base/vec.hpp"
#include "seatwright/scan/cylinder.hpp"

namespace seatwright::scan::made {

using Rng = std::mt19937_64;

inline double evenly(Rng& rng, double low, double high) {
    return low + (high - low) * static_cast<double>(rng() >> 11) * 0x1p-53;
}
inline double normally(Rng& rng) {
    const double u = 1 - evenly(rng, 0, 1), v = evenly(rng, 0, 2 * pi);
    return std::sqrt(-2 * std::log(u)) * std::cos(v);
}

struct Sample {
    Vec3 at = Vec3::Zero(), normal = Vec3::UnitZ();
    std::size_t surface = 0;
};

// A piece of a surface of revolution whose profile is a straight line (flat ring, cylinder, cone), a sphere's
// zone or a bent pipe; `keep` cuts pieces out of it.
struct Surface {
    enum class Kind { turned, rectangle, sphere, pipe } kind = Kind::turned;
    Vec3 at = Vec3::Zero(), axis = Vec3::UnitZ();
    double rho0 = 0, s0 = 0, rho1 = 0,
           s1 = 0;                   // turned: profile; rectangle: half lengths rho0, rho1; sphere: radius
                                     // rho0, zone s0..s1 along the axis; pipe: bend rho0, bore rho1
    double turn0 = -pi, turn1 = pi;  // part of the turn
    std::function<bool(const Vec3&)> keep;
    const char* name = "";

    double area() const {
        const double turn = turn1 - turn0;
        switch (kind) {
            case Kind::turned:
                return turn * (rho0 + rho1) / 2 * std::hypot(rho1 - rho0, s1 - s0);
            case Kind::rectangle:
                return 4 * rho0 * rho1;
            case Kind::sphere:
                return turn * rho0 * std::abs(s1 - s0);
            case Kind::pipe:
                return turn * rho0 * 2 * pi * rho1;
        }
        return 0;
    }

    // A place even over the surface, or none where it is cut out.
    std::optional<Sample> draw(Rng& rng) const {
        const Across f = across(axis);
        const double turn = evenly(rng, turn0, turn1);
        const Vec3 out = std::cos(turn) * f.u + std::sin(turn) * f.v;
        Sample s;
        switch (kind) {
            case Kind::turned: {
                // Even in area: radius squared goes evenly where it changes.
                const double t = evenly(rng, 0, 1);
                const double rho = std::sqrt(rho0 * rho0 + t * (rho1 * rho1 - rho0 * rho0));
                const double part = std::abs(rho1 - rho0) > 1e-12 ? (rho - rho0) / (rho1 - rho0) : t;
                s.at = at + rho * out + (s0 + part * (s1 - s0)) * axis;
                s.normal = ((s1 - s0) * out - (rho1 - rho0) * axis).normalized();
                break;
            }
            case Kind::rectangle:
                s.at = at + evenly(rng, -rho0, rho0) * Vec3(Vec3::UnitX()) +
                       evenly(rng, -rho1, rho1) * Vec3(Vec3::UnitY());
                s.normal = axis;
                break;
            case Kind::sphere: {
                const double z = evenly(rng, s0, s1);
                s.normal = (std::sqrt(rho0 * rho0 - z * z) * out + z * axis) / rho0;
                s.at = at + rho0 * s.normal;
                break;
            }
            case Kind::pipe: {
                double round = 0;
                do round = evenly(rng, 0, 2 * pi);
                while (evenly(rng, 0, rho0 + rho1) > rho0 + rho1 * std::cos(round));
                s.normal = std::cos(round) * out + std::sin(round) * axis;
                s.at = at + rho0 * out + rho1 * s.normal;
                break;
            }
        }
        if (keep && !keep(s.at)) return std::nullopt;
        return s;
    }

    // The first place a ray meets it, as how far along the ray. Not of pipes.
    std::optional<double> hit(const Vec3& from, const Vec3& way) const {
        std::optional<double> best;
        const auto take = [&](double t) {
            if (t <= 1e-9 || (best && t >= *best)) return;
            const Vec3 p = from + t * way, d = p - at;
            const double z = axis.dot(d);
            if (kind == Kind::rectangle) {
                if (std::abs(d.x()) > rho0 || std::abs(d.y()) > rho1) return;
            } else {
                if (kind == Kind::turned && std::abs(s1 - s0) < 1e-12) {
                    const double rho = (d - z * axis).norm();
                    if (rho < std::min(rho0, rho1) || rho > std::max(rho0, rho1)) return;
                } else if (z < std::min(s0, s1) || z > std::max(s0, s1)) {
                    return;
                }
                const Across f = across(axis);
                const double turn = std::atan2(f.v.dot(d), f.u.dot(d));
                if (turn < turn0 || turn > turn1) return;
            }
            if (keep && !keep(p)) return;
            best = t;
        };
        const Vec3 d = from - at;
        const double dz = axis.dot(d), wz = axis.dot(way);
        if (kind == Kind::rectangle || (kind == Kind::turned && std::abs(s1 - s0) < 1e-12)) {
            const double level = kind == Kind::rectangle ? 0 : s0;
            if (wz != 0) take((level - dz) / wz);
            return best;
        }
        double a = 0, b = 0, c = 0;
        if (kind == Kind::sphere) {
            a = 1;
            b = d.dot(way);
            c = d.squaredNorm() - rho0 * rho0;
        } else {
            // rho(z) = k + m·z: |d + t·w|² − z² = (k + m·z)².
            const double m = (rho1 - rho0) / (s1 - s0), k = rho0 - m * s0;
            a = way.squaredNorm() - wz * wz * (1 + m * m);
            b = d.dot(way) - dz * wz * (1 + m * m) - m * k * wz;
            c = d.squaredNorm() - dz * dz * (1 + m * m) - 2 * m * k * dz - k * k;
        }
        if (std::abs(a) < 1e-15) {
            if (b != 0) take(-c / (2 * b));
            return best;
        }
        const double root = b * b - a * c;
        if (root < 0) return best;
        take((-b - std::sqrt(root)) / a);
        take((-b + std::sqrt(root)) / a);
        return best;
    }
};

using Surfaces = std::vector<Surface>;

// `count` places even over all surfaces.
inline std::vector<Sample> evenly_over(const Surfaces& all, std::size_t count, Rng& rng) {
    std::vector<double> until;
    double sum = 0;
    for (const auto& s : all) until.push_back(sum += s.area());
    std::vector<Sample> out;
    out.reserve(count);
    while (out.size() < count) {
        const double at = evenly(rng, 0, sum);
        const auto k =
            static_cast<std::size_t>(std::lower_bound(until.begin(), until.end(), at) - until.begin());
        if (auto s = all[k].draw(rng)) {
            s->surface = k;
            out.push_back(*s);
        }
    }
    return out;
}

// What a scanner over `box` sees that looks from these directions (towards the head) in parallel rays.
inline std::vector<Sample> seen_from(const Surfaces& all, const std::vector<Vec3>& ways, double half_x,
                                     double half_y, const Vec3& middle, std::size_t count, Rng& rng) {
    std::vector<Sample> out;
    out.reserve(count);
    for (std::size_t i = 0; out.size() < count && i < 20 * count; ++i) {
        const Vec3& way = ways[i % ways.size()];
        const Vec3 on = middle + Vec3(evenly(rng, -half_x, half_x), evenly(rng, -half_y, half_y), 0);
        const Vec3 from = on - 300 * way;
        std::optional<double> first;
        std::size_t which = 0;
        for (std::size_t k = 0; k < all.size(); ++k)
            if (const auto t = all[k].hit(from, way); t && (!first || *t < *first)) {
                first = t;
                which = k;
            }
        if (first) out.push_back({from + *first * way, -way, which});
    }
    return out;
}

}  // namespace seatwright::scan::made
