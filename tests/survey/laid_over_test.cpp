// Two descriptions of one head laid over each other: the motion that was put in comes out, and what stands
// otherwise is named.
#include "seatwright/survey/laid_over.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace seatwright::survey {
namespace {

// Five columns of bolts, the front one set in: no way round looks like another.
Laid head(bool lopsided) {
    Laid out;
    for (int k = 0; k < 5; ++k)
        for (const double side : {-1.0, 1.0})
            out.bolts.emplace_back(88 * (k - 0.5) + (lopsided && k == 0 ? 9 : 0),
                                   side * 46 + (lopsided && k == 4 && side > 0 ? 7 : 0));
    for (int k = 0; k < 4; ++k) {
        out.guides.push_back(
            {std::to_string(k + 1) + "I", job::Kind::intake, {88.0 * k - 19, 3}, -6.0, rad(12), rad(1.5), 0});
        out.guides.push_back({std::to_string(k + 1) + "E",
                              job::Kind::exhaust,
                              {88.0 * k + 21, -4},
                              -5.0,
                              rad(-14),
                              rad(0.5),
                              0});
    }
    return out;
}

// The same head as somebody else would have it: turned, mirrored, from another origin.
Laid moved(Laid laid, bool mirrored, double yaw, const Vec2& shift) {
    const auto way = [&](Vec2 d) {
        if (mirrored) d.y() = -d.y();
        return Vec2(plane_rotation(yaw) * d);
    };
    for (auto& b : laid.bolts) b = way(b) + shift;
    for (auto& g : laid.guides) {
        g.at = way(g.at) + shift;
        const Vec2 lean = way({std::tan(*g.cant), std::tan(*g.incline)});
        g.incline = std::atan(lean.y());
        g.cant = std::atan(lean.x());
    }
    return laid;
}

TEST(LaidOver, EveryWayComesOut) {
    const Laid mine = head(true);
    for (const bool mirrored : {false, true})
        for (const double yaw : {0.0, rad(0.7), pi, pi - rad(1.1)}) {
            const Laid other = moved(mine, mirrored, yaw, {31.5, -12.25});
            const auto over = lay_over(mine, other);
            ASSERT_TRUE(over);
            const bool turned = yaw > 1;
            EXPECT_EQ(over->way, mirrored ? (turned ? Way::mirrored_end_for_end : Way::mirrored)
                                          : (turned ? Way::end_for_end : Way::same));
            EXPECT_EQ(over->bolts.size(), 10u);
            EXPECT_LT(over->bolts_worst, 1e-9);
            EXPECT_LT(*over->guides_worst, 1e-9);
            EXPECT_TRUE(over->as_well.empty());
            for (const auto& g : over->guides) {
                EXPECT_EQ(g.mine, g.other);
                EXPECT_NEAR(*g.z, 0, 1e-12);
                EXPECT_NEAR(*g.incline, 0, 1e-9);
                EXPECT_NEAR(*g.cant, 0, 1e-9);
            }
        }
}

TEST(LaidOver, ASymmetricPatternIsDecidedByTheGuides) {
    const Laid mine = head(false);
    const auto over = lay_over(mine, moved(mine, false, pi, {264, 0}));
    ASSERT_TRUE(over);
    EXPECT_EQ(over->way, Way::end_for_end);
    EXPECT_TRUE(over->by_guides);
    EXPECT_LT(*over->guides_worst, 1e-9);
    // Without guides nothing decides, and that is said.
    Laid bare = mine;
    bare.guides.clear();
    const auto open = lay_over(bare, bare);
    ASSERT_TRUE(open);
    EXPECT_EQ(open->as_well.size(), 3u);
    EXPECT_FALSE(open->guides_rms);
}

TEST(LaidOver, WhatStandsOtherwiseIsNamed) {
    const Laid mine = head(true);
    Laid other = moved(mine, false, 0, {0, 0});
    std::mt19937_64 random(3);
    std::normal_distribution<double> stray(0, 0.05);
    for (auto& b : other.bolts) b += Vec2(stray(random), stray(random));
    for (auto& g : other.guides) g.at += Vec2(stray(random), stray(random));
    other.guides[3].at.x() += 1.2;
    other.bolts.pop_back();
    other.bolts.emplace_back(500, 0);
    other.guides[5].z.reset();
    const auto over = lay_over(mine, other);
    ASSERT_TRUE(over);
    EXPECT_EQ(over->bolts.size(), 9u);
    EXPECT_EQ(over->mine_alone, 1u);
    EXPECT_EQ(over->other_alone, 1u);
    EXPECT_GT(over->bolts_rms, 0.03);
    EXPECT_LT(over->bolts_rms, 0.11);  // √2·0.05 a hole, less what the fit takes
    for (std::size_t i = 0; i < over->guides.size(); ++i) EXPECT_EQ(over->guides[i].stands_out, i == 3) << i;
    EXPECT_FALSE(over->guides[5].z);
}

TEST(LaidOver, AnotherHeadDoesNotLieOnIt) {
    Laid other = head(true);
    for (auto& b : other.bolts) b *= 1.37;
    const auto over = lay_over(head(true), other);
    EXPECT_TRUE(!over || over->bolts.size() < 5);
    Laid none = other;
    none.bolts.resize(1);
    EXPECT_FALSE(lay_over(head(true), none));
}

}  // namespace
}  // namespace seatwright::survey
