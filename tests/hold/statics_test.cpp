// Map, posts, safety and level of random heads against quaternions, statics in vectors, drawing posts at
// random, and dense least squares (Eigen): none of it shares a formula with the stage.
#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>

#include "directions.hpp"
#include "job_fixtures.hpp"
#include "seatwright/hold/hold.hpp"

namespace seatwright {
namespace {

using draws::uniform;

// The head turned: about its X by the tilt after about its Y by the swing, as quaternions.
Eigen::Quaterniond turned(double tilt, double swing) {
    return Eigen::Quaterniond(Eigen::AngleAxisd(tilt, Vec3::UnitX())) *
           Eigen::Quaterniond(Eigen::AngleAxisd(swing, Vec3::UnitY()));
}

job::Job random_head(std::mt19937_64& random) {
    auto job = fixtures::pent_roof_job();
    job.fixture.swing = {rad(-10), rad(10)};
    job.fixture.plumb_limit = rad(uniform(random, 0.05, 3));
    job.machine.x_sign = random() % 2 == 0 ? 1 : -1;
    job.machine.y_sign = random() % 2 == 0 ? 1 : -1;
    for (auto& valve : job.head.valves) {
        valve.seat += Vec3(uniform(random, -3, 3), uniform(random, -3, 3), uniform(random, -5, 5));
        valve.incline += rad(uniform(random, -4, 4));
        valve.cant = rad(uniform(random, -4, 4));
    }
    return job;
}

TEST(HoldStatics, MapsAndPlumbErrorsByQuaternions) {
    std::mt19937_64 random(71);
    std::size_t setups = 0;
    for (int trial = 0; trial < 40; ++trial) {
        const auto job = random_head(random);
        const auto hold = hold::plan(job);
        for (const auto& setup : hold.setups) {
            ++setups;
            const auto turn = turned(setup.tilt, setup.swing);
            const Vec3 datum = job.head.valves[setup.datum].seat;
            Vec3 low = Vec3::Zero(), high = Vec3::Zero();
            for (const auto& held : setup.valves) {
                const auto& valve = job.head.valves[held.valve];
                const Vec3 map = turn * (valve.seat - datum);
                EXPECT_NEAR((held.map - map).norm(), 0, 1e-11);
                EXPECT_NEAR(held.readout.x(), job.machine.x_sign * map.x(), 1e-11);
                EXPECT_NEAR(held.readout.y(), job.machine.y_sign * map.y(), 1e-11);
                const Vec3 axis = Vec3(std::tan(valve.cant), std::tan(valve.incline), 1).normalized();
                const double error = std::atan2((turn * axis).head<2>().norm(), (turn * axis).z());
                EXPECT_NEAR(held.plumb_error, error, 1e-13);
                EXPECT_EQ(held.reachable, error <= job.fixture.plumb_limit + 1e-11);
                low = low.cwiseMin(map);
                high = high.cwiseMax(map);
            }
            EXPECT_NEAR(*setup.travel_margin[0], *job.machine.travel_x - (high - low).x(), 1e-10);
            EXPECT_NEAR(*setup.travel_margin[1], *job.machine.travel_y - (high - low).y(), 1e-10);
        }
    }
    EXPECT_GT(setups, 80u);
}

// Posts put at random in their holes: how far an end strays and how far the head turns; and the two holes
// furthest apart in one row (y equal within half a hole) by trying all pairs.
TEST(HoldStatics, PostsDrawnAtRandom) {
    std::mt19937_64 random(72);
    auto job = fixtures::wedge_job();
    for (auto& hole : job.head.bolt_holes) hole += Vec2(uniform(random, -9, 9), uniform(random, -9, 9));
    const auto posts = *hold::plan(job).posts;
    double furthest = 0;
    for (const auto& a : job.head.bolt_holes)
        for (const auto& b : job.head.bolt_holes)
            if (std::abs(a.y() - b.y()) <= *job.head.bolt_hole_diameter / 2)
                furthest = std::max(furthest, (a - b).norm());
    ASSERT_GT(furthest, 0);
    EXPECT_NEAR(posts.span, furthest, 1e-12);
    const auto in_disc = [&](double radius) {
        for (;;) {
            const Vec2 p(uniform(random, -radius, radius), uniform(random, -radius, radius));
            if (p.norm() <= radius) return p;
        }
    };
    constexpr int heads = 200'000;  // the sd of an sd of n draws is sd/√(2n): 0.16 %
    double along = 0, turning = 0;
    const Vec2 row = (posts.b - posts.a).normalized();
    for (int k = 0; k < heads; ++k) {
        const Vec2 at_a = posts.a + in_disc(*posts.clearance / 2),
                   at_b = posts.b + in_disc(*posts.clearance / 2);
        along += std::pow((at_a - posts.a).x(), 2);
        const Vec2 line = at_b - at_a;
        turning += std::pow(std::atan2(row.x() * line.y() - row.y() * line.x(), row.dot(line)), 2);
    }
    EXPECT_NEAR(std::sqrt(along / heads), *posts.position_sd, 0.007 * *posts.position_sd);
    EXPECT_NEAR(std::sqrt(turning / heads), *posts.yaw_sd, 0.007 * *posts.yaw_sd);
}

// Gravity taken apart along the deck and across it; the uphill edge is the one whose middle stands higher.
TEST(HoldStatics, SafetyByForcesOnTheDeck) {
    std::mt19937_64 random(73);
    int slid = 0, stayed = 0;
    for (int trial = 0; trial < 200; ++trial) {
        auto job = fixtures::wedge_job();
        const double incline = rad(uniform(random, -25, 25));
        for (auto& valve : job.head.valves) {
            valve.incline = incline;
            valve.cant = rad(uniform(random, -8, 8)) * (trial % 3 == 0 ? 1 : 0);
        }
        job.head.mass = uniform(random, 5, 60);
        job.fixture.swing = {rad(-10), rad(10)};
        job.fixture.friction = uniform(random, 0.05, 0.4);
        job.fixture.clamp_force = uniform(random, 200, 8000);
        for (const auto& setup : hold::plan(job).setups) {
            const auto turn = turned(setup.tilt, setup.swing);
            const Vec3 weight(0, 0, -*job.head.mass * 9.80665);
            const Vec3 normal = turn * Vec3::UnitZ();
            const double pressed = -weight.dot(normal);
            const double pulled = (weight + pressed * normal).norm();
            EXPECT_EQ(setup.safety.slides_when_released, pulled > *job.fixture.friction * pressed);
            (setup.safety.slides_when_released ? slid : stayed) += 1;
            if (setup.safety.slip_factor) {
                EXPECT_NEAR(*setup.safety.slip_factor,
                            2 * *job.fixture.friction * *job.fixture.clamp_force / pulled,
                            1e-9 * *setup.safety.slip_factor);
            }
            const double back = (turn * Vec3::UnitY()).z(), right = (turn * Vec3::UnitX()).z();
            if (setup.safety.uphill)
                EXPECT_EQ(*setup.safety.uphill == job::LoadSide::back, back > 0);
            else
                EXPECT_LE(std::abs(back), std::abs(right) + 0.02);
        }
    }
    EXPECT_GT(slid, 30);
    EXPECT_GT(stayed, 30);
}

// Leans and the sensor's bias as one least-squares problem: first = lean + bias, reversed = −lean + bias.
TEST(HoldStatics, LevelReadingsByLeastSquares) {
    std::mt19937_64 random(74);
    for (int trial = 0; trial < 50; ++trial) {
        auto job = fixtures::wedge_job();
        const std::size_t n = 2 + random() % 2;  // fewer than any outlier is looked for among
        Eigen::MatrixXd rows =
            Eigen::MatrixXd::Zero(static_cast<Eigen::Index>(2 * n), static_cast<Eigen::Index>(n + 1));
        Eigen::VectorXd read(static_cast<Eigen::Index>(2 * n));
        const double bias = rad(uniform(random, -0.2, 0.2));
        for (std::size_t g = 0; g < n; ++g) {
            const double lean = rad(uniform(random, -0.2, 0.2));  // none contradicts another
            job::Level level;
            level.valve = job.head.valves[g].id;
            level.across = job::Across::incline;
            level.first = lean + bias + rad(uniform(random, -0.01, 0.01));
            level.second = -lean + bias + rad(uniform(random, -0.01, 0.01));
            job.readings.levels.push_back(level);
            const auto row = static_cast<Eigen::Index>(2 * g), last = static_cast<Eigen::Index>(n);
            rows(row, row / 2) = 1;
            rows(row + 1, row / 2) = -1;
            rows(row, last) = rows(row + 1, last) = 1;
            read(row) = level.first;
            read(row + 1) = *level.second;
        }
        const Eigen::VectorXd fitted = rows.householderQr().solve(read);
        const auto level = *hold::plan(job).level;
        EXPECT_NEAR(*level.incline_bias, fitted(static_cast<Eigen::Index>(n)), 1e-14);
        EXPECT_NEAR(*level.incline, fitted.head(static_cast<Eigen::Index>(n)).mean(), 1e-14);
        EXPECT_NEAR(*level.correction_tilt, -fitted.head(static_cast<Eigen::Index>(n)).mean(), 1e-14);
        ASSERT_EQ(level.guides.size(), n);
        for (std::size_t g = 0; g < n; ++g)
            EXPECT_NEAR(*level.guides[g].incline, fitted(static_cast<Eigen::Index>(g)), 1e-14);
    }
}

// A small change of the two settings turns the head about the machine's X by the tilt and about the tilted
// swing axis by the swing: the shift is that turn crossed with the place in the map, to second order.
TEST(HoldStatics, MapShiftByCrossProduct) {
    std::mt19937_64 random(75);
    for (int trial = 0; trial < 40; ++trial) {
        auto job = random_head(random);
        job.fixture.plumb_limit = rad(30);  // one setup
        job.fixture.step = 0;               // every correction is ordered
        for (const auto across : {job::Across::incline, job::Across::cant}) {
            job::Level level;
            level.valve = job.head.valves[0].id;
            level.across = across;
            level.first = rad(uniform(random, -0.02, 0.02));
            level.second = -level.first;
            job.readings.levels.push_back(level);
        }
        const auto hold = hold::plan(job);
        ASSERT_EQ(hold.setups.size(), 1u);
        const auto& setup = hold.setups[0];
        const Vec3 swing_axis = Eigen::AngleAxisd(setup.tilt, Vec3::UnitX()) * Vec3::UnitY();
        const Vec3 turn = *hold.level->set_tilt * Vec3::UnitX() + *hold.level->set_swing * swing_axis;
        for (const auto& shift : hold.level->map_shift) {
            const auto held = std::find_if(setup.valves.begin(), setup.valves.end(),
                                           [&](const hold::Held& h) { return h.valve == shift.valve; });
            EXPECT_NEAR((shift.shift - turn.cross(held->map)).norm(), 0,
                        turn.squaredNorm() * held->map.norm() + 1e-12);
        }
    }
}

}  // namespace
}  // namespace seatwright
