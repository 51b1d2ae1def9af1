// Posts: which bolt holes, how far apart, how well they place a head.
#include "seatwright/hold/posts.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "job_fixtures.hpp"

namespace seatwright {
namespace {

TEST(HoldPosts, ClosedForms) {
    const auto job = fixtures::wedge_job(4, 112);
    const auto posts = hold::posts_of(job.head, job.fixture);
    ASSERT_TRUE(posts.has_value());
    const double span = 4 * 112.0;
    const double s = 13.5 - 12.7;
    EXPECT_NEAR(posts->span, span, 1e-12);
    EXPECT_NEAR(*posts->clearance, s, 1e-14);
    EXPECT_NEAR(*posts->position_sd, s / 4, 1e-15);
    EXPECT_NEAR(*posts->yaw_sd, std::sqrt(2) * s / (4 * span), 1e-16);
    // Both rows are as long and nothing says from where it is loaded: the first in the file.
    EXPECT_EQ(posts->holes, (std::array<std::size_t, 2>{0, 8}));
}

TEST(HoldPosts, OfEqualRowsTheOneAwayFromTheLoadingSide) {
    auto job = fixtures::wedge_job(4, 112);  // holes in pairs: y -50, y +50
    job.fixture.load_from = job::LoadSide::back;
    EXPECT_EQ(hold::posts_of(job.head, job.fixture)->holes, (std::array<std::size_t, 2>{0, 8}));
    job.fixture.load_from = job::LoadSide::front;
    EXPECT_EQ(hold::posts_of(job.head, job.fixture)->holes, (std::array<std::size_t, 2>{1, 9}));
}

TEST(HoldPosts, TheLongestRowWinsAndHolesOfARowMayStandHalfAHoleApart) {
    auto job = fixtures::wedge_job(4, 112);
    job.fixture.load_from = job::LoadSide::front;
    job.head.bolt_holes = {{0, -50}, {400, -44}, {-5, 50}, {380, 50}, {200, 0}};
    // Hole 13.5: 6 mm apart is one row.
    EXPECT_EQ(hold::posts_of(job.head, job.fixture)->holes, (std::array<std::size_t, 2>{0, 1}));
    job.head.bolt_holes[1].y() = -43;
    EXPECT_EQ(hold::posts_of(job.head, job.fixture)->holes, (std::array<std::size_t, 2>{2, 3}));
}

TEST(HoldPosts, TheDiagonalOnlyWhereNoRowHasTwo) {
    auto job = fixtures::wedge_job(4, 112);
    job.head.bolt_holes = {{0, -50}, {100, 0}, {300, 50}};
    EXPECT_EQ(hold::posts_of(job.head, job.fixture)->holes, (std::array<std::size_t, 2>{0, 2}));
}

// Common practice (derived from bolts shared between cylinders): the outer bolt columns of a four-cylinder
// head lie four bore spacings apart, 448 mm for 112 mm.
TEST(HoldPosts, OuterBoltColumnsAreAboutFourBoreSpacings) {
    const auto job = fixtures::wedge_job(4, 112);
    const auto posts = hold::posts_of(job.head, job.fixture);
    EXPECT_NEAR(std::abs(posts->b.x() - posts->a.x()), 4 * 112, 1e-12);
    EXPECT_NEAR(posts->span, 4 * 112, 1e-12);
}

// The sd of one axis of a uniform disc of radius s/2 is s/4: by summing rings.
TEST(HoldPosts, PositionSdIsThatOfAUniformDisc) {
    constexpr int rings = 2000;
    double second_moment = 0, area = 0;
    for (int k = 0; k < rings; ++k) {
        const double r = (k + 0.5) / rings * 0.5;
        second_moment += r * r / 2 * r;  // mean of x² on a ring is r²/2
        area += r;
    }
    EXPECT_NEAR(std::sqrt(second_moment / area), 0.25, 1e-6);
}

TEST(HoldPosts, NamedHolesAndMissingSizes) {
    auto job = fixtures::wedge_job(4, 112);
    job.head.posts = {2, 6};
    auto posts = hold::posts_of(job.head, job.fixture);
    EXPECT_NEAR(posts->span, 224, 1e-12);
    job.fixture.post_diameter.reset();
    posts = hold::posts_of(job.head, job.fixture);
    EXPECT_FALSE(posts->clearance.has_value());
    EXPECT_FALSE(posts->yaw_sd.has_value());
    job.fixture.post_diameter = 14;  // larger than the hole
    posts = hold::posts_of(job.head, job.fixture);
    EXPECT_LT(*posts->clearance, 0);
    EXPECT_FALSE(posts->position_sd.has_value());
    job.head.bolt_holes.resize(1);
    EXPECT_FALSE(hold::posts_of(job.head, job.fixture).has_value());
}

}  // namespace
}  // namespace seatwright
