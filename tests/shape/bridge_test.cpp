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

// A seat that is its circle alone, with the way of the cutter 20 mm up.
Neighbour seat_at(const char* name, const Vec3& centre, double radius) {
    return {Neighbour::What::seat,
            name,
            {{centre, Vec3::UnitZ(), radius}, {{centre, Vec3::UnitZ(), 20, radius, radius}}, std::nullopt}};
}

Neighbour bore_at(const char* name, const Vec3& centre, double radius, double length) {
    return {
        Neighbour::What::bore, name, {{}, {{centre, -Vec3::UnitZ(), length, radius, radius}}, std::nullopt}};
}

TEST(Bridge, NearestNamesTheNeighbour) {
    const SeatSolids seat = seat_at("own", Vec3::Zero(), 20).solids;
    const auto near =
        nearest(seat,
                {seat_at("own", Vec3::Zero(), 20),
                 seat_at("far", {80, 0, 0}, 18),
                 seat_at("next", {0, -41, 0}, 18),
                 bore_at("plug", {0, 28, -1}, 7, 30),
                 {Neighbour::What::edge, "bore", {{{3, 0, 0}, {0, 0, 1}, 50}, {}, std::nullopt}}},
                "own");
    ASSERT_TRUE(near);
    EXPECT_EQ(near->to, "plug");
    EXPECT_FALSE(near->by_ring);
    EXPECT_NEAR(near->bridge, std::hypot(1, 1), 1e-7);  // its mouth is 1 lower and 1 aside
    const auto edge = [](double radius) {
        return std::vector<Neighbour>{
            {Neighbour::What::edge, "bore", {{{3, 0, 0}, {0, 0, 1}, radius}, {}, std::nullopt}}};
    };
    EXPECT_NEAR(nearest(seat, edge(22))->bridge, -1, 1e-9);  // sticks out by 20 + 3 − 22
    EXPECT_NEAR(nearest(seat, edge(25))->bridge, 2, 1e-9);
    EXPECT_FALSE(nearest(seat, {}));
}

// A bore that stands 45 deg to the guide comes nearest far below its mouth.
TEST(Bridge, ABoreIsNearestAnywhereOverItsLength) {
    SeatSolids seat = seat_at("own", Vec3::Zero(), 20).solids;
    const double slant = std::sqrt(0.5);
    // Axis through (40, 0, 10), running down towards the seat's axis: (30, 0, 0), (25, 0, −5), …
    const Neighbour bore{Neighbour::What::bore,
                         "injector",
                         {{}, {{{40, 0, 10}, {-slant, 0, -slant}, 100, 4, 4}}, std::nullopt}};
    // From (20, 0, 0) to the line x − z = 30 is 10·sin 45, less the radius; the mouth alone is 18.4 away.
    EXPECT_NEAR(nearest(seat, {bore})->bridge, 10 * slant - 4, 1e-7);
    // A ring 6 deep: its lower corner (22, −6) is (30 − 28)·sin 45 from the line: 2.586 inside the bore.
    seat.ring = Frustum{{0, 0, -6}, Vec3::UnitZ(), 6, 22, 22};
    const auto broken = nearest(seat, {bore});
    EXPECT_NEAR(broken->bridge, 2 * slant - 4, 1e-7);
    EXPECT_TRUE(broken->by_ring);
    // Stopped short of it the bore does no harm: it ends at (30, 0, 0).
    Neighbour blind = bore;
    blind.solids.swept[0].length = 10 / slant;
    EXPECT_GT(nearest(seat, {blind})->bridge, 1.5);
}

// The body above a blade strikes what stands in its way, not what lies lower.
TEST(Bridge, TheBodyOfACutterStrikesWhatStandsInItsWay) {
    const Frustum body{{0, 0, 1}, Vec3::UnitZ(), 30, 24, 24};
    EXPECT_GT(nearest_to_body(body, {seat_at("lower", {40, 0, 0.5}, 18)})->bridge, 0);
    EXPECT_NEAR(nearest_to_body(body, {seat_at("higher", {40, 0, 1.5}, 18)})->bridge, -2, 1e-9);
    EXPECT_NEAR(nearest_to_body(body, {bore_at("plug", {30, 0, 0}, 4, 30)})->bridge, std::hypot(2, 1), 1e-7);
    EXPECT_NEAR(nearest_to_body(body, {bore_at("boss", {27, 0, 3}, 4, 30)})->bridge, -1, 1e-7);
    const Neighbour edge{Neighbour::What::edge, "bore", {{{3, 0, 0}, {0, 0, 1}, 26}, {}, std::nullopt}};
    EXPECT_FALSE(nearest_to_body(body, {edge}));  // all of it above the deck
    const Frustum deep{{0, 0, -4}, Vec3::UnitZ(), 30, 24, 24};
    EXPECT_NEAR(nearest_to_body(deep, {edge})->bridge, -1, 1e-9);
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
