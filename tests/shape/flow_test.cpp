// Curtain area against Heywood's three regimes (Internal Combustion Engine Fundamentals, 1988, eqs 6.7
// to 6.9), values worked independently, and against a brute-force least frustum.
#include "seatwright/shape/flow.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "job_fixtures.hpp"

namespace seatwright::shape {
namespace {

TEST(Flow, ThreeRegimes) {
    const Curtain flat{40, 2, rad(30), 35, 7}, steep{40, 2, rad(45), 35, 7};
    EXPECT_NEAR(second_regime(flat), 4.618802, 1e-6);
    EXPECT_NEAR(third_regime(flat), 8.628570, 1e-6);
    EXPECT_NEAR(second_regime(steep), 4, 1e-12);
    EXPECT_NEAR(third_regime(steep), 9.473870, 1e-6);
    const double lifts[] = {1, 2, 3, 4, 5, 6, 8, 10};
    const double at30[] = {99.123263,  200.602720, 304.438372, 410.630219,
                           517.433353, 625.774048, 851.360782, 923.628240};
    const double at45[] = {81.082614,  164.386669, 249.912165, 337.659103,
                           430.432589, 533.885920, 755.028709, 923.628240};
    for (std::size_t i = 0; i < 8; ++i) {
        EXPECT_NEAR(flow_area(flat, lifts[i]), at30[i], 1e-6) << lifts[i];
        EXPECT_NEAR(flow_area(steep, lifts[i]), at45[i], 1e-6) << lifts[i];
    }
}

TEST(Flow, IsContinuousAndStartsAtNothing) {
    for (const double angle : {20.0, 30.0, 45.0, 55.0}) {
        const Curtain c{40, 2, rad(angle), 35, 7};
        EXPECT_EQ(flow_area(c, 0), 0);
        EXPECT_EQ(flow_area(c, -1), 0);
        for (const double joint : {second_regime(c), third_regime(c)})
            EXPECT_NEAR(flow_area(c, joint - 1e-9), flow_area(c, joint + 1e-9), 1e-5) << angle;
    }
}

// Least frustum between the seat and the valve's face: the formulas lie above it by at most 0.5 %.
TEST(Flow, LiesJustAboveTheLeastFrustum) {
    for (const double angle : {30.0, 45.0}) {
        const Curtain c{40, 2, rad(angle), 60, 7};  // a wide port, so that the curtain decides
        for (double lift = 0.5; lift < 8; lift += 0.25) {
            double least = 1e300;
            for (int i = 0; i <= 400; ++i)
                for (int j = 0; j <= 400; ++j) {
                    const double rs = 18 + 2.0 * i / 400, rv = 18 + 2.0 * j / 400;
                    const double zs = (rs - 18) * std::tan(c.angle),
                                 zv = (rv - 18) * std::tan(c.angle) + lift;
                    least = std::min(least, pi * (rs + rv) * std::hypot(rs - rv, zs - zv));
                }
            EXPECT_GT(flow_area(c, lift), least * (1 - 1e-4)) << lift;
            EXPECT_LT(flow_area(c, lift), least * 1.005) << lift;
        }
    }
}

TEST(Flow, CurveOfAJobEndsAtTheThroat) {
    const auto flow = flow_of(fixtures::wedge_job(), job::Kind::intake);
    ASSERT_TRUE(flow);
    EXPECT_NEAR(flow->curve.back().y(), flow->throat_area, 1e-9);
    for (std::size_t i = 1; i < flow->curve.size(); ++i)
        EXPECT_GE(flow->curve[i].y(), flow->curve[i - 1].y());
}

}  // namespace
}  // namespace seatwright::shape
