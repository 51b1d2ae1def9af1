// A ball on a rim and on a seat, against the worked figures and against plain geometry.
#include <gtest/gtest.h>

#include <cmath>

#include "seatwright/base/units.hpp"
#include "seatwright/base/vec.hpp"
#include "seatwright/survey/ball.hpp"

namespace seatwright::survey {
namespace {

// Worked example B9: R 10 on a hole r 6.75, and its offset in setup A of the canted head.
TEST(Ball, OnAHolesRim) {
    const double over = ball_over_rim(10, 6.75);
    EXPECT_NEAR(over, 7.3782, 5e-5);
    const Vec3 n = attitude_rotation(rad(21.9515), rad(-4.0)) * Vec3::UnitZ();
    const Vec3 offset = over * n;
    EXPECT_NEAR(offset.x(), -0.5147, 5e-5);
    EXPECT_NEAR(offset.y(), -2.7514, 5e-5);
    EXPECT_NEAR(offset.z(), 6.8266, 5e-5);
}

// The lowest place at which a ball clears a cone, found by looking along the cone.
TEST(Ball, OnASeatsCone) {
    for (const double angle : {30.0, 45.0, 60.0})
        for (const double radius : {10.0, 14.0, 20.0}) {
            const double alpha = rad(angle), gauge = 15;
            double lowest = -1e9, at = 0;
            for (double r = 0.01; r < radius; r += 1e-4) {
                const double cone = (r - gauge) * std::tan(alpha);  // height over the gauge plane
                const double centre = cone + std::sqrt(radius * radius - r * r);
                if (centre > lowest) {
                    lowest = centre;
                    at = r;
                }
            }
            EXPECT_NEAR(ball_touches_at(radius, alpha), at, 1e-3);
            EXPECT_NEAR(ball_over_gauge(radius, alpha, gauge), lowest, 1e-7);
        }
}

}  // namespace
}  // namespace seatwright::survey
