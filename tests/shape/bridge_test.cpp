// Distances between circles in space: closed forms where there are any, dense sampling of both where not.
#include "seatwright/shape/bridge.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <random>

#include "job_fixtures.hpp"

namespace seatwright::shape {
namespace {

std::vector<Vec3> points_of(const Circle& c, int n) {
    const Vec3 u = c.normal.unitOrthogonal(), v = c.normal.cross(u);
    std::vector<Vec3> out;
    for (int i = 0; i < n; ++i) {
        const double t = 2 * pi * i / n;
        out.push_back(c.centre + c.radius * (std::cos(t) * u + std::sin(t) * v));
    }
    return out;
}

double sampled_distance(const Circle& a, const Circle& b) {
    const auto pa = points_of(a, 1500), pb = points_of(b, 1500);
    double least = 1e300;
    for (const auto& p : pa)
        for (const auto& q : pb) least = std::min(least, (p - q).squaredNorm());
    return std::sqrt(least);
}

TEST(CircleDistance, ClosedForms) {
    const Circle a{{0, 0, 0}, {0, 0, 1}, 20};
    EXPECT_NEAR(circle_distance(a, {{50, 0, 0}, {0, 0, 1}, 18}), 12, 1e-9);  // side by side
    EXPECT_NEAR(circle_distance(a, {{50, 0, 5}, {0, 0, 1}, 18}), 13, 1e-9);  // 5, 12, 13
    EXPECT_NEAR(circle_distance(a, {{0, 0, 7}, {0, 0, 1}, 20}), 7, 1e-9);    // one above the other
    EXPECT_NEAR(circle_distance(a, {{0, 0, 0}, {0, 0, 1}, 12}), 8, 1e-9);    // one in the other
    EXPECT_NEAR(circle_distance(a, {{30, 0, 0}, {0, 0, 1}, 18}), 0, 1e-6);   // crossing
    EXPECT_NEAR(circle_distance(a, {{40, 0, 0}, {0, 1, 0}, 5}), 15, 1e-9);   // at right angles
    EXPECT_NEAR(circle_distance(a, {{0, 0, 30}, {1, 0, 0}, 6}), std::hypot(20, 30) - 6,
                1e-9);  // a tie of two
}

TEST(CircleDistance, AgreesWithDenseSamplingAnyWayUp) {
    std::mt19937_64 random(31);
    std::normal_distribution<double> normal(0, 1);
    std::uniform_real_distribution<double> radius(3, 25);
    for (int trial = 0; trial < 40; ++trial) {
        const auto some = [&] {
            return Circle{Vec3(normal(random), normal(random), normal(random)) * 20,
                          Vec3(normal(random), normal(random), normal(random)).normalized(), radius(random)};
        };
        const Circle a = some(), b = some();
        const double exact = circle_distance(a, b), sampled = sampled_distance(a, b);
        EXPECT_LE(exact, sampled + 1e-9) << trial;
        // Nearest samples miss by at most half a step along each circle.
        EXPECT_GT(exact, sampled - pi * (a.radius + b.radius) / 1500) << trial;
        EXPECT_NEAR(exact, circle_distance(b, a), 1e-7) << trial;
    }
}

TEST(Bridge, OverlapIsNegativeAndFlatSeatsGiveTheirGap) {
    const Circle a{{0, 0, 0}, {0, 0, 1}, 20};
    EXPECT_NEAR(bridge_between(a, {{40, 0, 0}, {0, 0, 1}, 18}), 2, 1e-9);
    EXPECT_NEAR(bridge_between(a, {{36, 0, 0}, {0, 0, 1}, 18}), -2, 1e-9);
    EXPECT_NEAR(bridge_between(a, {{36, 0, 0.3}, {0, 0, 1}, 18}), -2, 1e-9);
    EXPECT_NEAR(bridge_between(a, {{36, 0, -0.3}, {0, 0, 1}, 18}), -2, 1e-9);
    EXPECT_LT(bridge_between(a, {{0, 0, 0}, {0, 0, 1}, 12}), 0);
}

// Where two parallel seats of one row stand 44 mm apart the bridge is what the radii leave, whatever the
// tilt.
TEST(Bridge, RowOfParallelGuides) {
    for (const double incline : {0.0, 19.5, 35.0}) {
        const auto job = fixtures::wedge_job(4, 112, incline);
        const Circle e = circle_of(job.head.valves[0], Vec2(19, 1), 0.1),
                     i = circle_of(job.head.valves[1], Vec2(22, 1), 0.1);
        EXPECT_NEAR(bridge_between(e, i), 44 - 41, 1e-9);
    }
}

TEST(Bridge, NearestNamesTheNeighbour) {
    const Circle seat{{0, 0, 0}, {0, 0, 1}, 20};
    const auto near = nearest(seat, {{"far", {{80, 0, 0}, {0, 0, 1}, 18}, Neighbour::Side::beside},
                                     {"plug", {{0, 28, 1}, {0, 0, 1}, 7}, Neighbour::Side::beside},
                                     {"next", {{0, -41, 0}, {0, 0, 1}, 18}, Neighbour::Side::beside},
                                     {"bore", {{3, 0, 0}, {0, 0, 1}, 50}, Neighbour::Side::around}});
    ASSERT_TRUE(near);
    EXPECT_EQ(near->to, "plug");
    EXPECT_NEAR(near->bridge, std::hypot(1, 1), 1e-9);
    const auto bore = nearest(seat, {{"bore", {{3, 0, 0}, {0, 0, 1}, 22}, Neighbour::Side::around}});
    EXPECT_NEAR(bore->bridge, -1, 1e-9);  // sticks out by 20 + 3 − 22
    const auto inside = nearest(seat, {{"bore", {{3, 0, 0}, {0, 0, 1}, 25}, Neighbour::Side::around}});
    EXPECT_NEAR(inside->bridge, 2, 1e-9);
    EXPECT_FALSE(nearest(seat, {}));
}

// Rotating or shifting the head changes no bridge.
TEST(Bridge, IsTheSameHoweverTheHeadLies) {
    const auto job = fixtures::pent_roof_job();
    std::mt19937_64 random(32);
    std::normal_distribution<double> normal(0, 1);
    for (int trial = 0; trial < 20; ++trial) {
        const Eigen::Quaterniond turn(normal(random), normal(random), normal(random), normal(random));
        const Mat3 r = turn.normalized().toRotationMatrix();
        const Vec3 shift(normal(random), normal(random), normal(random));
        const Circle a = circle_of(job.head.valves[0], Vec2(15.5, 1), 0.2),
                     b = circle_of(job.head.valves[1], Vec2(18, 1), 0.1);
        const auto moved = [&](const Circle& c) {
            return Circle{r * c.centre + 50 * shift, r * c.normal, c.radius};
        };
        EXPECT_NEAR(bridge_between(moved(a), moved(b)), bridge_between(a, b), 1e-8);
    }
}

}  // namespace
}  // namespace seatwright::shape
