// Distances between solids of revolution: closed forms, and dense sampling of both surfaces.
#include "seatwright/shape/solids.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <random>
#include <vector>

#include "draws.hpp"
#include "seatwright/base/units.hpp"

namespace seatwright::shape {
namespace {

Frustum rod(const Vec3& base, const Vec3& axis, double length, double radius) {
    return {base, axis.normalized(), length, radius, radius};
}

// Points of both end discs and the side, `fine` to a turn and along; none is further than `step` from the
// next.
struct Sampled {
    std::vector<Vec3> points;
    double step = 0;
};

Sampled sample(const Frustum& f, int fine) {
    const Vec3 u = f.axis.unitOrthogonal(), v = f.axis.cross(u);
    Sampled out;
    const double slope = std::hypot(f.length, f.end_radius - f.base_radius);
    out.step = std::max({2 * pi * f.most_radius(), slope, f.most_radius()}) / fine;
    for (int i = 0; i < fine; ++i) {
        const double turn = 2 * pi * i / fine;
        const Vec3 out_along = std::cos(turn) * u + std::sin(turn) * v;
        for (int j = 0; j <= fine; ++j) {
            const double t = double(j) / fine;
            const double radius = f.base_radius + t * (f.end_radius - f.base_radius);
            out.points.push_back(f.base + f.axis * (t * f.length) + radius * out_along);
            out.points.push_back(f.base + t * f.base_radius * out_along);
            out.points.push_back(f.end() + t * f.end_radius * out_along);
        }
    }
    return out;
}

double sampled_distance(const Sampled& a, const Sampled& b) {
    double least = 1e300;
    for (const auto& p : a.points)
        for (const auto& q : b.points) least = std::min(least, (p - q).squaredNorm());
    return std::sqrt(least);
}

// A point lies in the solid: its height and its distance from the axis say so.
bool holds(const Frustum& f, const Vec3& p, double noise) {
    const double t = (p - f.base).dot(f.axis);
    const double aside = (p - f.base - t * f.axis).norm();
    const double radius = f.base_radius + (f.length > 0 ? t / f.length : 0) * (f.end_radius - f.base_radius);
    return t > -noise && t < f.length + noise && aside < radius + noise;
}

TEST(AxesApart, ClosedForms) {
    const Frustum a = rod({0, 0, 0}, {0, 0, 1}, 10, 1);
    EXPECT_NEAR(axes_apart(a, rod({5, 0, 2}, {0, 0, 1}, 3, 1)), 5, 1e-12);    // side by side
    EXPECT_NEAR(axes_apart(a, rod({3, 0, 14}, {0, 0, 1}, 3, 1)), 5, 1e-12);   // 3, 4, 5 past the end
    EXPECT_NEAR(axes_apart(a, rod({3, -9, 5}, {0, 1, 0}, 20, 1)), 3, 1e-12);  // crossing over
    EXPECT_NEAR(axes_apart(a, rod({-2, 0, 5}, {1, 0, 0}, 20, 1)), 0, 1e-12);  // meeting
    EXPECT_NEAR(axes_apart(a, rod({4, 0, 13}, {1, 0, 1}, 20, 1)), 5, 1e-12);  // end to end
}

TEST(SolidDistance, ClosedForms) {
    const Frustum a = rod({0, 0, 0}, {0, 0, 1}, 10, 5);
    EXPECT_NEAR(solid_distance(a, rod({20, 0, 2}, {0, 0, 1}, 3, 4)), 11, 1e-7);
    EXPECT_NEAR(solid_distance(a, rod({0, 0, 13}, {0, 0, 1}, 3, 4)), 3, 1e-7);     // one above the other
    EXPECT_NEAR(solid_distance(a, rod({12, 0, 14}, {0, 0, 1}, 3, 4)), 5, 1e-7);    // rims 3 and 4 apart
    EXPECT_NEAR(solid_distance(a, rod({12, -40, 5}, {0, 1, 0}, 80, 4)), 3, 1e-7);  // crosswise
    EXPECT_EQ(solid_distance(a, rod({8, -40, 5}, {0, 1, 0}, 80, 4)), 0);           // into it
    // A cone of 45 deg from the point (0, 0, 20) downwards, beside a rod: 10·sin 45 from its edge line.
    const Frustum cone{{0, 0, 10}, {0, 0, 1}, 10, 10, 0};
    EXPECT_NEAR(solid_distance(cone, rod({15, -30, 15}, {0, 1, 0}, 60, 0)), 10 * std::sqrt(0.5), 1e-7);
}

TEST(Wall, TwoBoresSideBySideWhateverItsSign) {
    const Frustum ring = rod({0, 0, -6}, {0, 0, 1}, 6, 18);
    for (const double apart : {40.0, 27.0, 25.94, 20.0, 15.0})
        EXPECT_NEAR(wall(ring, rod({apart, 0, 0}, {0, 0, -1}, 60, 9)), apart - 27, 1e-7) << apart;
    EXPECT_NEAR(wall(ring, rod({30, 0, -10}, {0, 0, -1}, 60, 9)), 5, 1e-7);  // its mouth is 4 below, 3 aside
}

Frustum any(std::mt19937_64& random) {
    std::normal_distribution<double> normal(0, 1);
    std::uniform_real_distribution<double> size(2, 20);
    Frustum f;
    f.base = Vec3(normal(random), normal(random), normal(random)) * 22;
    f.axis = Vec3(normal(random), normal(random), normal(random)).normalized();
    f.length = size(random);
    f.base_radius = size(random) / 2;
    f.end_radius = size(random) / 2;
    return f;
}

TEST(SolidDistance, AgreesWithDenseSamplingOfBothSurfaces) {
    std::mt19937_64 random(91);
    int apart = 0;
    for (int trial = 0; trial < 40; ++trial) {
        const Frustum a = any(random), b = any(random);
        const double exact = solid_distance(a, b);
        constexpr int around = slowed_by_sanitizer ? 18 : 36;
        const Sampled pa = sample(a, around), pb = sample(b, around);
        if (exact == 0) continue;
        ++apart;
        const double sampled = sampled_distance(pa, pb);
        EXPECT_LE(exact, sampled + 1e-7) << trial;
        EXPECT_GT(exact, sampled - pa.step - pb.step) << trial;
        EXPECT_NEAR(exact, solid_distance(b, a), 1e-7) << trial;
        EXPECT_LE(distance_bound(a, b), exact + 1e-9) << trial;
        EXPECT_NEAR(wall(a, rod(b.base, b.axis, b.length, b.base_radius)),
                    solid_distance(a, rod(b.base, b.axis, b.length, b.base_radius)), 1e-7);
    }
    EXPECT_GT(apart, 15);
}

// The nearest pair is right to 1e-6: of random points within both, and of points walked downhill from the
// nearest samples, none is nearer, and some come as near.
TEST(SolidDistance, NoPairOfPointsWalkedDownhillIsNearer) {
    std::mt19937_64 random(92);
    int apart = 0;
    for (int trial = 0; trial < 60; ++trial) {
        const Frustum a = any(random), b = any(random);
        const double exact = solid_distance(a, b);
        if (exact == 0) continue;
        ++apart;
        // Nearest points of a and b in turn; each is the foot on a convex solid, so they come together.
        const auto foot = [](const Frustum& f, const Vec3& p) {
            const double t = (p - f.base).dot(f.axis);
            const Vec3 across = p - f.base - t * f.axis;
            const double aside = across.norm();
            const Vec3 aside_unit = aside > 0 ? Vec3(across / aside) : f.axis.unitOrthogonal();
            // In the half plane: the foot on a quadrangle (0,0) (0,r0) (L,r1) (L,0).
            const Vec2 at(t, aside), p0(0, f.base_radius), p1(f.length, f.end_radius);
            const auto on_piece = [&](const Vec2& s, const Vec2& e) {
                const Vec2 d = e - s;
                const double k = std::clamp((at - s).dot(d) / d.squaredNorm(), 0.0, 1.0);
                return Vec2(s + k * d);
            };
            Vec2 best = at;
            if (!holds(f, p, 0)) {
                best = on_piece(p0, p1);
                for (const Vec2& q : {on_piece({0, 0}, p0), on_piece({f.length, 0}, p1)})
                    if ((q - at).norm() < (best - at).norm()) best = q;
            }
            return Vec3(f.base + f.axis * best.x() + aside_unit * best.y());
        };
        Vec3 p = a.base, q = b.base;
        for (int i = 0; i < 20000; ++i) {
            q = foot(b, p);
            p = foot(a, q);
        }
        EXPECT_NEAR((p - q).norm(), exact, 1e-5) << trial;
    }
    EXPECT_GT(apart, 25);
}

// How deep one reaches into the other, by sampling: the point of a nearest to b's axis.
TEST(Wall, OverlapIsHowFarOneReachesIntoTheOther) {
    std::mt19937_64 random(93);
    std::uniform_real_distribution<double> lean(-0.4, 0.4), off(-8, 8);
    int broken = 0;
    for (int trial = 0; trial < 40; ++trial) {
        const Frustum ring = rod({0, 0, -6}, {0, 0, 1}, 6, 17);
        const Frustum bore =
            rod({24 + off(random) / 8, off(random), 10}, {lean(random), lean(random), -1}, 60, 8);
        const double said = wall(ring, bore);
        double least = 1e300;
        const Sampled points = sample(ring, 120);
        for (const auto& p : points.points) {
            const double t = (p - bore.base).dot(bore.axis);
            if (t < 0 || t > bore.length) continue;
            least = std::min(least, (p - bore.base - t * bore.axis).norm() - bore.base_radius);
        }
        if (said > 0) {
            EXPECT_GT(least, 0) << trial;
            continue;
        }
        ++broken;
        EXPECT_LE(said, least + 1e-7) << trial;
        EXPECT_GT(said, least - points.step) << trial;
    }
    EXPECT_GT(broken, 8);
}

}  // namespace
}  // namespace seatwright::shape
