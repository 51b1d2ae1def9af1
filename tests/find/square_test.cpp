// A yaw as a move of one post: done as told, the row runs true. Invented heads.
#include "seatwright/find/square.hpp"

#include <gtest/gtest.h>

#include "job_fixtures.hpp"

namespace seatwright::find {
namespace {

// The angle left in readout coordinates when the post told is shifted as told.
double yaw_left(const job::Job& job, const hold::Hold& hold, double yaw) {
    const hold::Setup& setup = hold.setups[0];
    const auto square = square_up(job, hold, setup, yaw, 0);
    EXPECT_TRUE(square.has_value());
    const Vec2 signs(job.machine.x_sign, job.machine.y_sign);
    const Vec2 apart = hold.posts->b - hold.posts->a;
    Vec2 before = signs.cwiseProduct((setup.rotation() * Vec3(apart.x(), apart.y(), 0)).head<2>());
    Vec2 after = before;
    if (square->post == 'a')
        after -= square->shift;
    else
        after += square->shift;
    const double turned = std::atan2(before.x() * after.y() - before.y() * after.x(), before.dot(after));
    EXPECT_NEAR(std::abs(square->move), hold.posts->span * std::abs(std::sin(yaw)), 1e-12);
    return yaw + turned;
}

TEST(Square, TheShiftTurnsTheHeadBackWhereverThePostsStand) {
    for (const double x_sign : {1.0, -1.0})
        for (const double y_sign : {1.0, -1.0})
            for (const Vec2& b : {Vec2(450, 0), Vec2(-450, 0), Vec2(0, 120), Vec2(90, 110), Vec2(-90, 110)})
                for (const double yaw : {0.004, -0.004}) {
                    job::Job job = fixtures::wedge_job();
                    job.machine.x_sign = static_cast<int>(x_sign);
                    job.machine.y_sign = static_cast<int>(y_sign);
                    hold::Hold hold = hold::plan(job);
                    for (auto& setup : hold.setups) setup.tilt = setup.swing = 0;
                    hold::Posts posts;
                    posts.b = b;
                    posts.span = b.norm();
                    hold.posts = posts;
                    EXPECT_NEAR(yaw_left(job, hold, yaw), 0, 1e-9) << b.transpose();
                }
}

TEST(Square, WithPostsAlongXTheNearerGoesTowardsPlusY) {
    const job::Job job = fixtures::wedge_job();
    hold::Hold hold = hold::plan(job);
    hold::Posts posts;
    posts.b = {450, 0};
    posts.span = 450;
    hold.posts = posts;
    const auto square = square_up(job, hold, hold.setups[0], 0.004, 0);
    EXPECT_EQ(square->post, 'a');
    EXPECT_NEAR(square->shift.y(), 450 * std::sin(0.004), 1e-9);
    EXPECT_LT(std::abs(square->shift.x()), 0.01);
}

}  // namespace
}  // namespace seatwright::find
