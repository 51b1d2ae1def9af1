// Answers that must not depend on where the drawing puts its origin, which way round it lies on the paper, or
// how often it was mirrored. Invented heads; the reference is the plan of the head as first drawn.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "job_fixtures.hpp"
#include "seatwright/plan/plan.hpp"

namespace seatwright {
namespace {

constexpr double same_length = 1e-9;  // mm: rounding of a few hundred mm
constexpr double same_angle = 1e-11;  // rad
constexpr double same_chance = 1e-6;  // the contract's integration error

// A head with touches in its first setup and readings of every seat.
job::Job with_readings(job::Job job) {
    const auto hold = hold::plan(job);
    int i = 0;
    for (const auto& setup : hold.setups)
        for (const auto& held : setup.valves)
            if (++i % 3 == 0) {
                job::Touch touch;
                touch.valve = job.head.valves[held.valve].id;
                touch.at = held.readout + Vec2(0.03 * std::sin(i), 0.02 * std::cos(2.0 * i));
                job.readings.touches.push_back(touch);
            }
    i = 0;
    for (const auto& valve : job.head.valves) {
        job::SeatBefore seat;
        seat.valve = valve.id;
        seat.stem_height = 47.5 + 0.01 * (++i % 4);
        seat.recession = 0.2;
        seat.cleanup = 0.08 + 0.01 * (i % 5);
        job.readings.seats.push_back(seat);
    }
    return job;
}

job::Job shifted(job::Job job, double dx, double dy) {
    for (auto& v : job.head.valves) v.seat += Vec3(dx, dy, 0);
    for (auto& h : job.head.bolt_holes) h += Vec2(dx, dy);
    for (auto& o : job.head.obstacles) o.centre += Vec3(dx, dy, 0);
    return job;
}

job::Job mirrored_x(job::Job job) {
    for (auto& v : job.head.valves) v.seat.x() = -v.seat.x(), v.cant = -v.cant;
    for (auto& h : job.head.bolt_holes) h.x() = -h.x();
    for (auto& o : job.head.obstacles) o.centre.x() = -o.centre.x();
    std::stable_sort(job.head.valves.begin(), job.head.valves.end(), [](const auto& a, const auto& b) {
        return std::abs(a.seat.x() - b.seat.x()) > 1e-6 ? a.seat.x() < b.seat.x() : a.seat.y() < b.seat.y();
    });
    return job;
}

const hold::Held& held(const hold::Hold& hold, const job::Job& job, const std::string& id) {
    for (const auto& setup : hold.setups)
        for (const auto& h : setup.valves)
            if (job.head.valves[h.valve].id == id) return h;
    throw std::logic_error("no valve " + id);
}

void expect_same_plan(const job::Job& a_job, const job::Job& b_job) {
    const auto a = plan::make_plan(a_job), b = plan::make_plan(b_job);
    ASSERT_EQ(a.hold.setups.size(), b.hold.setups.size());
    for (std::size_t s = 0; s < a.hold.setups.size(); ++s) {
        EXPECT_NEAR(a.hold.setups[s].tilt, b.hold.setups[s].tilt, same_angle);
        EXPECT_NEAR(a.hold.setups[s].swing, b.hold.setups[s].swing, same_angle);
        ASSERT_EQ(a.hold.setups[s].valves.size(), b.hold.setups[s].valves.size());
        for (std::size_t v = 0; v < a.hold.setups[s].valves.size(); ++v)
            EXPECT_LT((a.hold.setups[s].valves[v].map - b.hold.setups[s].valves[v].map).norm(), same_length);
    }
    ASSERT_EQ(a.find.heads.size(), b.find.heads.size());
    for (std::size_t h = 0; h < a.find.heads.size(); ++h)
        for (std::size_t s = 0; s < a.find.heads[h].setups.size(); ++s) {
            const auto& x = a.find.heads[h].setups[s];
            const auto& y = b.find.heads[h].setups[s];
            EXPECT_NEAR(x.yaw, y.yaw, same_angle);
            EXPECT_NEAR(x.chi2, y.chi2, 1e-6);
            EXPECT_EQ(x.next_touch, y.next_touch);
            for (std::size_t g = 0; g < x.guides.size(); ++g) {
                EXPECT_LT((x.guides[g].at - y.guides[g].at).norm(), 1e-8);
                ASSERT_TRUE(x.guides[g].enter_probability && y.guides[g].enter_probability);
                EXPECT_NEAR(*x.guides[g].enter_probability, *y.guides[g].enter_probability, same_chance);
            }
        }
    ASSERT_EQ(a.shape.seats.size(), b.shape.seats.size());
    for (std::size_t v = 0; v < a.shape.seats.size(); ++v) {
        ASSERT_TRUE(a.shape.seats[v].depth && b.shape.seats[v].depth);
        EXPECT_NEAR(*a.shape.seats[v].depth, *b.shape.seats[v].depth, same_length);
        EXPECT_EQ(a.shape.seats[v].bridge.has_value(), b.shape.seats[v].bridge.has_value());
        if (a.shape.seats[v].bridge) {
            EXPECT_NEAR(*a.shape.seats[v].bridge, *b.shape.seats[v].bridge, 1e-6);
        }
    }
    EXPECT_EQ(a.cut.order, b.cut.order);
    EXPECT_NEAR(a.cut.seconds_head, b.cut.seconds_head, 1e-6);
}

RC_GTEST_PROP(Invariance, TheOriginOfTheDrawingDoesNotMatter, ()) {
    const double dx = *rc::gen::inRange(-400, 400), dy = *rc::gen::inRange(-200, 200);
    const auto job =
        with_readings(*rc::gen::arbitrary<bool>() ? fixtures::wedge_job() : fixtures::pent_roof_job());
    expect_same_plan(job, shifted(job, dx, dy));
    RC_ASSERT(!testing::Test::HasFailure());
}

TEST(Invariance, MirroringTwiceIsTheIdentity) {
    const auto job = with_readings(fixtures::pent_roof_job());
    expect_same_plan(job, mirrored_x(mirrored_x(job)));
}

TEST(Invariance, TheOtherHandCastingIsTheMirrorImage) {
    job::Job job = fixtures::wedge_job();
    job.head.valves[3].cant = rad(2);  // so that there is a sideways lean to mirror
    job.fixture.swing = {rad(-10), rad(10)};
    const auto other = mirrored_x(job);
    const auto a = hold::plan(job), b = hold::plan(other);
    ASSERT_EQ(a.setups.size(), b.setups.size());
    // One common origin makes the maps comparable: differences within a setup mirror in X and keep Y and Z.
    for (const auto& setup : a.setups) {
        const auto& first = job.head.valves[setup.valves.front().valve].id;
        for (const auto& h : setup.valves) {
            const auto& id = job.head.valves[h.valve].id;
            const Vec3 da = h.map - setup.valves.front().map;
            const Vec3 db = held(b, other, id).map - held(b, other, first).map;
            EXPECT_LT((Vec3(-da.x(), da.y(), da.z()) - db).norm(), same_length) << id;
            EXPECT_NEAR(h.plumb_error, held(b, other, id).plumb_error, same_angle) << id;
        }
    }
}

TEST(Invariance, TurnedEndForEndOnThePaperTheTiltChangesSignOnly) {
    const auto job = fixtures::wedge_job();
    job::Job turned = job;
    for (auto& v : turned.head.valves) {
        v.seat.head<2>() *= -1;
        v.incline = -v.incline;
        v.cant = -v.cant;
    }
    for (auto& h : turned.head.bolt_holes) h *= -1;
    std::reverse(turned.head.valves.begin(), turned.head.valves.end());
    const auto a = hold::plan(job), b = hold::plan(turned);
    ASSERT_EQ(a.setups.size(), 1u);
    ASSERT_EQ(b.setups.size(), 1u);
    EXPECT_NEAR(a.setups[0].tilt, -b.setups[0].tilt, same_angle);
    EXPECT_NEAR(a.posts->span, b.posts->span, same_length);
    EXPECT_NEAR(a.setups[0].safety.slope, b.setups[0].safety.slope, same_angle);
}

}  // namespace
}  // namespace seatwright
