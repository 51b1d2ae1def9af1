// Worn profiles: closed-form solids of revolution, dense sampling as the oracle.
#include "seatwright/shape/worn.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>

#include "job_fixtures.hpp"
#include "seatwright/shape/section.hpp"

namespace seatwright::shape {
namespace {

Section seat_section() {
    job::SeatForm form;
    form.angle = rad(45);
    form.width = 1.5;
    form.inset = 0.5;
    form.top = {{rad(30), 1.0}};
    form.throat = {{rad(60), 1.2}};
    return section_of(job::ValveForm{44.5, rad(45), 8.7, 1.5}, form);
}

double height(const std::vector<Vec2>& line, double r) {
    for (std::size_t i = 0; i + 1 < line.size(); ++i)
        if (line[i].x() <= r && r <= line[i + 1].x() && line[i].x() < line[i + 1].x())
            return line[i].y() +
                   (line[i + 1].y() - line[i].y()) * (r - line[i].x()) / (line[i + 1].x() - line[i].x());
    return NAN;
}

// The new section with wear: lowered by amounts that vary along it.
std::vector<Vec2> worn_from(const Section& s, double most, std::mt19937_64& random) {
    std::uniform_real_distribution<double> wear(-0.1 * most, most);
    std::vector<Vec2> out;
    const double from = s.points.front().x() - 0.3, to = s.points.back().x() + 0.3;
    for (int i = 0; i <= 40; ++i) {
        const double r = from + (to - from) * i / 40;
        const double z = height(s.points, std::clamp(r, s.points.front().x(), s.points.back().x()));
        out.emplace_back(r, z - wear(random));
    }
    return out;
}

// Pappus: triangle (18,0) (20,0) (20,2) turned about the axis has A 2, r 58/3, V 242.949831878; the same is a
// cylinder less a frustum, π·20²·2 − (π·2/3)(18² + 18·20 + 20²).
TEST(Worn, RemovedVolumeOfATriangleIsPappus) {
    const Section flat = section_of({{0.0, 2.0}}, 0, 38);  // r 18 to 20 at z 0
    const auto removal = removal_of(flat, {{18, 0}, {20, 2}}, 0);
    ASSERT_TRUE(removal);
    EXPECT_TRUE(removal->covered);
    const double closed = pi * 400 * 2 - pi * 2 / 3 * (324 + 360 + 400);
    EXPECT_NEAR(removal->volume, 242.949831878, 1e-8);
    EXPECT_NEAR(removal->volume, closed, 1e-9);
}

// The whole form sunk by d below its own surface removes a ring of height d.
TEST(Worn, SinkingTheFormRemovesARing) {
    const Section s = seat_section();
    const double inner = s.points.front().x(), outer = s.points.back().x();
    for (const double d : {0.0, 0.05, 0.4})
        EXPECT_NEAR(removal_of(s, s.points, d)->volume, pi * (outer * outer - inner * inner) * d, 1e-9);
}

TEST(Worn, RemovedVolumeAgreesWithNumericalIntegration) {
    std::mt19937_64 random(21);
    const Section s = seat_section();
    const double inner = s.points.front().x(), outer = s.points.back().x();
    for (int trial = 0; trial < 20; ++trial) {
        const auto worn = worn_from(s, 0.3, random);
        const double d = 0.02 * trial;
        double sum = 0;
        constexpr int n = 200'000;
        for (int i = 0; i < n; ++i) {
            const double r = inner + (outer - inner) * (i + 0.5) / n;
            sum += r * std::max(0.0, height(worn, r) - (height(s.points, r) - d));
        }
        const double numerical = 2 * pi * sum * (outer - inner) / n;
        EXPECT_NEAR(removal_of(s, worn, d)->volume, numerical, 1e-5 * std::max(1.0, numerical)) << trial;
    }
}

TEST(Worn, CleanupIsTheDeepestGapAndClearsAllOldSurface) {
    std::mt19937_64 random(22);
    const Section s = seat_section();
    const double inner = s.points[s.face].x(), outer = s.points[s.face + 1].x();
    for (int trial = 0; trial < 50; ++trial) {
        const auto worn = worn_from(s, 0.4, random);
        double sampled = -1e9;
        for (int i = 0; i <= 20'000; ++i) {
            const double r = inner + (outer - inner) * i / 20'000;
            sampled = std::max(sampled, height(s.points, r) - height(worn, r));
        }
        const auto cleanup = cleanup_of(s, worn);
        ASSERT_TRUE(cleanup);
        EXPECT_TRUE(cleanup->covered);
        EXPECT_NEAR(cleanup->depth, sampled, 2e-3);
        EXPECT_GE(cleanup->depth, sampled - 1e-12);
        EXPECT_TRUE(still_old(s, worn, cleanup->depth).empty());
        EXPECT_FALSE(still_old(s, worn, cleanup->depth - 0.01).empty());
    }
}

TEST(Worn, StillOldAgreesWithSampling) {
    std::mt19937_64 random(23);
    const Section s = seat_section();
    const double inner = s.points[s.face].x(), outer = s.points[s.face + 1].x();
    for (int trial = 0; trial < 20; ++trial) {
        const auto worn = worn_from(s, 0.4, random);
        const auto patches = still_old(s, worn, 0.2);
        int wrong = 0;
        for (int i = 0; i < 5000; ++i) {
            const double r = inner + (outer - inner) * (i + 0.5) / 5000;
            const double gap = height(worn, r) - (height(s.points, r) - 0.2);
            if (std::abs(gap) < 1e-5) continue;
            const bool inside = std::any_of(patches.begin(), patches.end(),
                                            [&](const auto& p) { return p[0] <= r && r <= p[1]; });
            if (inside != (gap < 0)) ++wrong;
        }
        EXPECT_EQ(wrong, 0);
    }
}

TEST(Worn, OrderOfThePointsDoesNotMatter) {
    std::mt19937_64 random(24);
    const Section s = seat_section();
    auto points = worn_from(s, 0.3, random);
    points.insert(points.begin() + 20, Vec2(points[20].x(), points[20].y() - 0.2));  // a step
    const auto straight = worn_profile(points);
    for (int trial = 0; trial < 10; ++trial) {
        std::shuffle(points.begin(), points.end(), random);
        const auto again = worn_profile(points);
        EXPECT_EQ(cleanup_of(s, again)->depth, cleanup_of(s, straight)->depth);
        EXPECT_EQ(removal_of(s, again, 0.1)->volume, removal_of(s, straight, 0.1)->volume);
    }
}

// Even noise of standard deviation s deepens the cleanup by a few s, never by more than its largest value.
TEST(Worn, NoiseDeepensTheCleanupByNoMoreThanItself) {
    std::mt19937_64 random(25);
    std::normal_distribution<double> noise(0, 0.005);
    const Section s = seat_section();
    for (int trial = 0; trial < 20; ++trial) {
        const auto clean = worn_from(s, 0.3, random);
        auto noisy = clean;
        double largest = 0;
        for (auto& p : noisy) {
            const double e = noise(random);
            p.y() += e;
            largest = std::max(largest, std::abs(e));
        }
        EXPECT_NEAR(cleanup_of(s, noisy)->depth, cleanup_of(s, clean)->depth, largest + 1e-12);
    }
}

TEST(Worn, PartialAndMissingSections) {
    const Section s = seat_section();
    EXPECT_FALSE(cleanup_of(s, {}));
    EXPECT_FALSE(cleanup_of(s, {{20, -0.1}}));
    EXPECT_FALSE(removal_of(s, {}, 0.1));
    EXPECT_FALSE(cleanup_of(s, {{1, 0}, {2, 0}}));
    const double middle = s.gauge / 2;
    const auto half = cleanup_of(s, {{middle, -0.1}, {middle + 5, 5 - 0.1}});
    ASSERT_TRUE(half);
    EXPECT_FALSE(half->covered);
    EXPECT_NEAR(half->depth, 0.1, 1e-9);
}

TEST(Worn, ProudMetalIsItsHighestOverTheForm) {
    const auto job = fixtures::wedge_job();
    const Section section = section_of(*job.valve.intake, *job.seat.intake);
    const auto lifted = [&](double by) {
        std::vector<Vec2> worn = section.points;
        for (auto& p : worn) p.y() += by;
        return proud_by(section, worn);
    };
    EXPECT_NEAR(lifted(0.7), 0.7, 1e-12);
    EXPECT_EQ(lifted(-0.7), 0);
    EXPECT_EQ(proud_by(section, {}), 0);
    // A weld bead inside the form's span, 0.4 above it at its top.
    const Vec2 middle = 0.5 * (section.points[1] + section.points[2]);
    EXPECT_NEAR(proud_by(section, {section.points[1], middle + Vec2(0, 0.4), section.points[2]}), 0.4, 1e-12);
}

}  // namespace
}  // namespace seatwright::shape
