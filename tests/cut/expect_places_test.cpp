// Where the read-back expects seats to be, by touches, posts and what was learned: by triangles. Invented
// data.
#include <gtest/gtest.h>

#include <cmath>

#include "job_fixtures.hpp"
#include "seatwright/cut/expect.hpp"

namespace seatwright::cut {
namespace {

struct Row {
    job::Job job = fixtures::wedge_job(2, 112, 0);
    hold::Setup setup;
    ExpectedFor what;
    Row() {
        setup.id = "A";
        for (std::size_t v = 0; v < job.head.valves.size(); ++v) {
            hold::Held held;
            held.valve = v;
            setup.valves.push_back(held);
        }
        what.head = "1";
    }
    Expected expected() const { return expect(job, setup, what); }
    void touch(const std::string& valve, Vec2 at, const std::string& head = "1") {
        job::Touch reading;
        reading.valve = valve;
        reading.head = head;
        reading.at = at;
        job.readings.touches.push_back(reading);
    }
    std::string fault(const std::vector<Vec2>& at) const {
        std::vector<Placed> places;
        for (std::size_t v = 0; v < at.size(); ++v) places.push_back({v, job.head.valves[v].id, at[v]});
        return fault_of_places(expected(), places, job);
    }
    // Drawn: 1E 0, 1I 44, 2E 112, 2I 156, all on one line.
    std::vector<Vec2> drawn(double yaw = 0, Vec2 off = Vec2::Zero()) const {
        std::vector<Vec2> out;
        for (const double x : {0.0, 44.0, 112.0, 156.0})
            out.emplace_back(off.x() + x * std::cos(yaw), off.y() + x * std::sin(yaw));
        return out;
    }
};

TEST(ExpectPlaces, TouchesOfThisHeadAreItsAnchors) {
    Row row;
    row.touch("1I", Vec2(44.1, 0.2));
    row.touch("1I", Vec2(90, 90), "2");
    row.touch("1E", Vec2(70, 70));
    row.what.set_aside = {2};
    const Expected e = row.expected();
    EXPECT_TRUE(e.seats[0].anchors.empty());
    ASSERT_EQ(e.seats[1].anchors.size(), 1u);
    EXPECT_EQ(e.seats[1].anchors[0].at, Vec2(44.1, 0.2));
    // Five standard deviations of touch and casting, and the readout's step.
    EXPECT_NEAR(e.seats[1].anchors[0].within, 5 * std::hypot(0.02, 0.08) + 0.001, 1e-12);
    row.job.readings.touches[0].sd = 0.06;
    EXPECT_NEAR(row.expected().seats[1].anchors[0].within, 5 * std::hypot(0.06, 0.08) + 0.001, 1e-12);
}

TEST(ExpectPlaces, TheTurnIsThatOfTheTouchesWhereTheySayMore) {
    Row row;
    row.job.find.yaw_sd = rad(1);
    EXPECT_NEAR(row.expected().yaw_within, rad(5), 1e-12);
    row.touch("1E", Vec2(0, 0));
    EXPECT_EQ(row.expected().yaw, 0);  // one says nothing of it
    row.touch("2I", Vec2(156 * std::cos(0.01), 156 * std::sin(0.01)));
    Expected e = row.expected();
    EXPECT_NEAR(e.yaw, 0.01, 1e-9);
    // Spread of the two about their middle: 78·√2.
    EXPECT_NEAR(e.yaw_within, 5 * std::hypot(0.02, 0.08) / (78 * std::sqrt(2.0)), 1e-12);
    // A touch a person stands by places its own guide and turns nothing.
    row.touch("1I", Vec2(44, 30));
    row.job.readings.touches.back().keep = true;
    e = row.expected();
    EXPECT_NEAR(e.yaw, 0.01, 1e-9);
    EXPECT_TRUE(e.seats[1].by_own_touch);
    EXPECT_FALSE(e.seats[0].by_own_touch);
    row.job.find.yaw_sd = rad(0.001);  // posts that say more
    e = row.expected();
    EXPECT_EQ(e.yaw, 0);
    EXPECT_NEAR(e.yaw_within, rad(0.005), 1e-12);
    row.job.find.yaw_sd.reset();
    row.what.posts_yaw_sd = rad(0.002);
    EXPECT_NEAR(row.expected().yaw_within, rad(0.01), 1e-12);
    // Two touches on one guide have no turn.
    Row one;
    one.touch("1E", Vec2(0, 0));
    one.touch("1E", Vec2(0.01, 0));
    EXPECT_EQ(one.expected().yaw, 0);
}

TEST(ExpectPlaces, ACarriedZeroAndWhatWasLearnedAreCounted) {
    Row row;
    row.job.find.carry = job::Carry{Vec2(0.3, -0.2), 0.004, 0.05, 0.0002};
    const Expected e = row.expected();
    EXPECT_EQ(e.offset, Vec2(0.3, -0.2));
    EXPECT_EQ(e.yaw, 0.004);
    EXPECT_NEAR(e.yaw_within, 5 * 0.0002, 1e-12);
    EXPECT_NEAR(e.single_within, 5 * 0.08 + 0.001 + 5 * 0.05, 1e-12);
    EXPECT_NEAR(row.job.machine.resolution, 0.001, 0);
    find::Learned learned;
    learned.valve = 2;
    learned.mean = Vec2(0.05, 0.01);
    row.what.learned = {learned};
    const Expected taught = row.expected();
    EXPECT_NEAR((taught.seats[2].map - Vec2(112.05, 0.01)).norm(), 0, 1e-9);
    EXPECT_NEAR((taught.seats[1].map - Vec2(44, 0)).norm(), 0, 1e-9);
    Row plain;
    EXPECT_EQ(plain.expected().offset, Vec2(0, 0));
    EXPECT_NEAR(plain.expected().single_within, 5 * 0.08 + 0.001, 1e-12);
}

TEST(ExpectPlaces, UntouchedSeatsLieWhereTheMapHasThemGiveOrTake) {
    Row row;
    row.job.find.yaw_sd = rad(0.1);
    EXPECT_EQ(row.fault(row.drawn()), "");
    EXPECT_EQ(row.fault(row.drawn(rad(0.4))), "");  // within five of the yaw's
    EXPECT_NE(row.fault(row.drawn(rad(1.5))), "");
    EXPECT_EQ(row.fault(row.drawn(0, Vec2(0.3, 0))), "");
    EXPECT_NE(row.fault(row.drawn(0, Vec2(0.6, 0))).find("as held has it"), std::string::npos);
    std::vector<Vec2> one = row.drawn();
    one[2].x() = one[1].x() + 2;
    EXPECT_NE(row.fault(one), "");
    Row other;
    EXPECT_NE(fault_of_places(other.expected(), {{9, "9X", Vec2::Zero()}}, other.job).find("does not belong"),
              std::string::npos);
}

// A guide placed by its own touch keeps no distance to the others, nor turns them.
TEST(ExpectPlaces, AGuideAPersonStandsByStandsAlone) {
    Row row;
    row.touch("1E", Vec2(0, 0));
    std::vector<Vec2> at = row.drawn();
    at[2] = Vec2(113.5, 0);
    EXPECT_NE(row.fault(at).find("apart"), std::string::npos);
    row.touch("2E", Vec2(113.5, 0));
    row.job.readings.touches.back().keep = true;
    EXPECT_EQ(row.fault(at), "");
    at[2] = Vec2(112, 1.5);
    row.job.readings.touches.back().at = at[2];
    EXPECT_EQ(row.fault(at), "");
    // Two seats so near that nothing can be told of a turn.
    Row near;
    near.touch("1E", Vec2(0, 0));
    near.job.head.valves[1].seat = near.job.head.valves[0].seat + Vec3(5, 0, 0);
    std::vector<Placed> pair{{0, "1E", Vec2(0, 0)}, {1, "1I", Vec2(0, 5)}};
    EXPECT_EQ(fault_of_places(near.expected(), pair, near.job), "");
}

TEST(ExpectPlaces, OverTheHeadIsWithinThirtyOfIt) {
    Row row;  // holes from x -34 - 0 … counted from 1E at (-22, 4): bolt holes at x -56 + 22 … 168 + 22, y ±
              // 50 - 4
    const Expected e = row.expected();
    const auto over = [&](double x, double y) { return over_head(e, row.job, Vec2(x, y)); };
    EXPECT_TRUE(over(0, 0));
    EXPECT_TRUE(over(-63.9, 0));
    EXPECT_FALSE(over(-64.1, 0));
    EXPECT_TRUE(over(0, -83.9));
    EXPECT_FALSE(over(0, -84.1));
    EXPECT_TRUE(over(0, 75.9));
    EXPECT_FALSE(over(0, 76.1));
    job::Obstacle plug;
    plug.centre = Vec3(-22, 104, 0);
    row.job.head.obstacles.push_back(plug);
    EXPECT_TRUE(over_head(row.expected(), row.job, Vec2(0, 100)));
    row.job.machine.y_sign = -1;
    EXPECT_FALSE(over_head(row.expected(), row.job, Vec2(0, 100)));
    EXPECT_TRUE(over_head(row.expected(), row.job, Vec2(0, -100)));
}

}  // namespace
}  // namespace seatwright::cut
