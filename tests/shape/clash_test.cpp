// What a plan says of bores and rings in each other's way.
#include "seatwright/shape/clash.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "job_fixtures.hpp"
#include "seatwright/hold/hold.hpp"
#include "spoken.hpp"

namespace seatwright::shape {
namespace {

// A flat diesel head: four upright valves about an injector. Invented.
job::Job flat_job() {
    auto job = fixtures::wedge_job(1, 112, 0);
    job.head.valves.clear();
    job.head.valves.push_back({"1Ia", 1, job::Kind::intake, Vec3(-20, 0, -2), 0, 0});
    job.head.valves.push_back({"1Ib", 1, job::Kind::intake, Vec3(30, 0, -2), 0, 0});
    job.valve.intake->head_diameter = 34;
    job.seat.intake->insert = job::Insert{36, 27, 6, {}, {}};
    job.cutters[0].gauge_diameter = {24, 50};
    for (const auto& v : job.head.valves) {
        job::SeatBefore r;
        r.valve = v.id;
        r.stem_height = 47.5;
        r.recession = 0.1;
        r.cleanup = 0.1;
        job.readings.seats.push_back(r);
    }
    return job;
}

const HeldBack* held(const Shape& shape, const std::string& valve, HeldCode code) {
    for (const auto& h : shape.held_back)
        if (h.valve == valve && h.code == code) return &h;
    return nullptr;
}

// Seen: an insert broke 1.06 mm into an injector bore with "bridge 2.98". The mouth stands clear of the
// seat; 12 deg of lean bring the bore under the ring.
TEST(Clash, ARingThatBreaksIntoABoreBlocks) {
    auto job = flat_job();
    const double lean = rad(12);
    job.head.obstacles = {{"injector", Vec3(3.5, 0, 0), 10, 0, lean, {}}};
    const Shape shape = design(job, {}, {}, "1");
    ASSERT_EQ(shape.seats.size(), 2u);
    // By hand, in the plane y = 0: the axis runs from (3.5, 0) down along (−sin 12, −cos 12); the ring of
    // 1Ia, radius 18 about x = −20, ends at its top at the outer end of the form less 6.
    const Section& form = shape.seats[0].section;
    const double bottom = -2 + form.points.back().y() - 6;
    const double to_axis = (3.5 - (-2)) * std::cos(lean) + bottom * std::sin(lean);
    const double wanted = to_axis - 5;
    ASSERT_LT(wanted, 0);
    EXPECT_NEAR(*shape.seats[0].bridge, wanted, 1e-6);
    EXPECT_EQ(shape.seats[0].bridge_to, "injector");
    const HeldBack* why = held(shape, "1Ia", HeldCode::clash);
    ASSERT_TRUE(why);
    EXPECT_NE(spoken(why->reason).find("1Ia: its ring runs"), std::string::npos) << spoken(why->reason);
    EXPECT_TRUE(std::any_of(shape.warnings.begin(), shape.warnings.end(), [](const Warning& w) {
        return w.code == "clash" && w.valve == "1Ia" && w.severity == Severity::blocking;
    }));
    EXPECT_FALSE(held(shape, "1Ib", HeldCode::clash));

    // The same bore stopped above the ring leaves it whole.
    job.head.obstacles[0].length = 1.5;
    const Shape whole = design(job, {}, {}, "1");
    EXPECT_GT(*whole.seats[0].bridge, 0);
    EXPECT_FALSE(held(whole, "1Ia", HeldCode::clash));
}

// Two rings 50 apart leave 50 − 36; a seat of which nothing is pressed in leaves what its circle does.
TEST(Clash, RingsAreBodies) {
    auto job = flat_job();
    const Shape rings = design(job, {}, {}, "1");
    EXPECT_NEAR(*rings.seats[0].bridge, 14, 1e-6);
    EXPECT_EQ(rings.seats[0].bridge_to, "1Ib");
    job.seat.intake->insert.reset();
    const Shape bare = design(job, {}, {}, "1");
    EXPECT_NEAR(*bare.seats[0].bridge, 50 - 2 * bare.seats[0].section.points.back().x(), 1e-6);
}

// A seat sunk deeper meets a bore that runs under it: the wall is taken at the planned depth.
TEST(Clash, TheSeatStandsAtItsPlannedDepth) {
    auto job = flat_job();
    job.seat.intake->insert.reset();
    job.head.obstacles = {{"oil way", Vec3(-20, -60, -4), 4, rad(-85), 0, 120.0}};
    const auto bridge = [&](double cleanup) {
        for (auto& r : job.readings.seats) r.cleanup = cleanup;
        return *design(job, {}, {}, "1").seats[0].bridge;
    };
    EXPECT_LT(bridge(0.5), bridge(0.1) - 0.2);
}

TEST(Clash, ABodyAboveTheBladeIsHeldBack) {
    auto job = flat_job();
    job.head.valves[1].seat.z() = 0.5;  // stands higher than its neighbour, within the body's way
    job.seat.intake->insert.reset();
    job.cutters[0].body = 40;
    EXPECT_FALSE(held(design(job, {}, {}, "1"), "1Ia", HeldCode::clash));
    job.cutters[0].body = 72;  // reaches 36 out; the neighbour's circle begins 50 − 17.4 away
    const Shape shape = design(job, {}, {}, "1");
    const HeldBack* why = held(shape, "1Ia", HeldCode::clash);
    ASSERT_TRUE(why);
    EXPECT_NE(spoken(why->reason).find("the body of three-face 45 above its blade would strike 1Ib"),
              std::string::npos)
        << spoken(why->reason);
    EXPECT_LT(*shape.seats[0].cutter_clearance, 0);
    EXPECT_FALSE(held(shape, "1Ib", HeldCode::clash));  // it looks down on the other
}

}  // namespace
}  // namespace seatwright::shape
