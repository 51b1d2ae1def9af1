// The smallest enclosing cap against CGAL's smallest enclosing sphere and published smallest enclosing balls.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>

#include "cgal_cap.hpp"
#include "directions.hpp"
#include "missing.hpp"
#include "places.hpp"
#include "seatwright/hold/cap.hpp"

namespace seatwright {
namespace {

TEST(HoldCap, AgreesWithCgalOnRandomDirections) {
    std::mt19937_64 random(20'260'101);
    int cases = 0;
    for (const double spread : {0.05, 2.0, 20.0, 60.0})
        for (int trial = 0; trial < 100; ++trial, ++cases) {
            const auto axes = draws::axes(random, 1 + static_cast<int>(random() % 40), spread);
            const auto own = hold::smallest_cap(axes), theirs = oracle::cap_by_cgal(axes);
            // CGAL works on coordinates near 1: of a small cap they keep the radius to 1e-12 and the
            // centre, from a nearly flat support, to 1e-10.
            ASSERT_NEAR(own.radius, theirs.radius, 1e-12) << "spread " << spread << " trial " << trial;
            ASSERT_NEAR(angle_between(own.centre, theirs.centre), 0, 1e-10);
        }
    EXPECT_EQ(cases, 400);
}

TEST(HoldCap, DegenerateDirections) {
    const Vec3 a = guide_axis(rad(20), rad(3));
    EXPECT_EQ(hold::smallest_cap({a}).radius, 0);
    EXPECT_EQ(hold::smallest_cap({a, a, a}).radius, 0);
    // On one great circle: the two ends span the cap.
    std::vector<Vec3> row;
    for (const double t : {-20.0, -5.0, 0.0, 12.0, 30.0}) row.push_back(guide_axis(rad(t), 0));
    const auto cap = hold::smallest_cap(row);
    EXPECT_NEAR(cap.radius, rad(25), 1e-15);
    EXPECT_NEAR(angle_between(cap.centre, guide_axis(rad(5), 0)), 0, 1e-15);
    // A square of four equal tilts: the centre stands upright, the radius is their common angle to it.
    std::vector<Vec3> square;
    for (const double s : {-1.0, 1.0})
        for (const double t : {-1.0, 1.0}) square.push_back(guide_axis(s * rad(15), t * rad(4)));
    const auto four = hold::smallest_cap(square);
    EXPECT_NEAR(angle_between(four.centre, Vec3::UnitZ()), 0, 1e-15);
    EXPECT_NEAR(four.radius, angle_between(square[0], Vec3::UnitZ()), 1e-15);
}

std::vector<Vec3> on_sphere(const std::vector<Vec2>& points, const Vec2& about, double scale) {
    std::vector<Vec3> out;
    for (const auto& p : points) {
        const Vec2 q = (p - about) * scale;
        out.emplace_back(q.x(), q.y(), std::sqrt(1 - q.squaredNorm()));
    }
    return out;
}

// Small sets of the miniball repository's and another project's tests (hbf/miniball python/test: centre
// (2, 0.5), R² 1.25; the second: centre (175, 650), R √8125). About their centre a planar circle and a cap
// have the same rim; whether a point is inside is decided alike when the set is small on the sphere.
TEST(HoldCap, PublishedSmallestCircles) {
    struct Example {
        std::vector<Vec2> points;
        Vec2 centre;
        double radius;
    };
    const std::vector<Example> examples{
        {{{3, 1}, {3, 1}, {1, 0}}, {2, 0.5}, std::sqrt(1.25)},
        {{{150, 650}, {150, 700}, {200, 600}, {200, 650}, {250, 600}, {250, 650}, {100, 700}, {250, 700}},
         {175, 650},
         std::sqrt(8125.0)}};
    for (const auto& example : examples) {
        const double scale = 1e-3 / example.radius;
        const auto cap = hold::smallest_cap(on_sphere(example.points, example.centre, scale));
        EXPECT_NEAR(cap.radius, std::asin(1e-3), 1e-15);
        EXPECT_NEAR(angle_between(cap.centre, Vec3::UnitZ()), 0, 1e-12);
    }
}

// hbf/miniball test data "cocircular_points_small_radius_2": 6144 points with whole coordinates exactly on
// one circle about the origin, R² = 3.728702916375125e15.
TEST(HoldCap, ManyCocircularPoints) {
    std::ifstream file(std::string(places::shared) + "/data/miniball/cocircular_points_small_radius_2.data");
    if (!file) GTEST_SKIP() << outside::missing(outside::no_data);
    std::size_t count = 0, dimension = 0;
    file >> count >> dimension;
    ASSERT_EQ(count, 6144u);
    std::vector<Vec2> points(count);
    for (auto& p : points) file >> p.x() >> p.y();
    const double scale = 0.3 / std::sqrt(3.728702916375125e15);
    const auto cap = hold::smallest_cap(on_sphere(points, Vec2::Zero(), scale));
    EXPECT_NEAR(cap.radius, std::asin(0.3), 1e-15);
    EXPECT_NEAR(angle_between(cap.centre, Vec3::UnitZ()), 0, 1e-14);
}

}  // namespace
}  // namespace seatwright
