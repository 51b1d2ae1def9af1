// The whole stage on invented heads: what is reported agrees with the formulas it names, and every seat is
// programmed.
#include <gtest/gtest.h>

#include <cmath>
#include <map>
#include <set>

#include "seatwright/cut/conditions.hpp"
#include "seatwright/cut/dwell.hpp"
#include "seatwright/cut/known.hpp"
#include "shaped.hpp"
#include "spoken.hpp"

namespace seatwright::cut {
namespace {

using fixtures::shaped;

TEST(Plan, EverySeatIsPlannedOrderedTimedAndProgrammed) {
    const auto s = shaped(fixtures::wedge_job());
    const Cut cut = s.plan();
    ASSERT_EQ(cut.seats.size(), 8u);
    ASSERT_EQ(cut.order.size(), 8u);
    EXPECT_EQ(std::set<std::size_t>(cut.order.begin(), cut.order.end()).size(), 8u);
    // Intake and exhaust have a blade setting of their own: two cutters, a file each.
    ASSERT_EQ(cut.programs.size(), 2u);
    EXPECT_EQ(cut.programs[0].file, "program-1-A-1-first.ngc");
    EXPECT_EQ(cut.programs[1].file, "program-1-A-2-first.ngc");
    ASSERT_EQ(cut.routes.size(), 2u);
    EXPECT_EQ(cut.routes[0].stops.size() + cut.routes[1].stops.size(), 8u);
    EXPECT_TRUE(cut.held_back.empty());
    double seats = 0;
    for (const SeatCut& seat : cut.seats) {
        EXPECT_GT(seat.seconds, 5);
        EXPECT_LT(seat.seconds, 120);  // 0.5 to 2 minutes a seat, from memory of the trade
        seats += seat.seconds;
    }
    EXPECT_GT(cut.seconds_head, seats);
    for (const auto& warning : cut.warnings)
        EXPECT_EQ(warning.severity, Severity::note) << spoken(warning.text);
}

// An operator zeroes as the program says: the words must be those of the zero its Z counts from.
TEST(Plan, TheProgramSaysWhereItsZCountsFrom) {
    auto job = fixtures::wedge_job();
    job.depth.zero_on = "3I";
    const auto s = shaped(job);
    const Cut cut = s.plan();
    ASSERT_EQ(cut.programs.size(), 2u);
    const Program& intake = cut.programs[1];
    EXPECT_NE(intake.text.find("(Z0 of cutter 2 taken on 3I of head 1?)"), std::string::npos) << intake.text;
    EXPECT_EQ(intake.route.zeros.at(0).taken.valve, job.head.index_of("3I"));
    // A touch on the exhaust's own form: zero_on names an intake seat, which this cutter does not fit.
    const auto& exhaust = cut.programs[0].route.zeros.at(0).taken;
    ASSERT_TRUE(exhaust.valve);
    EXPECT_EQ(job.head.valves[*exhaust.valve].kind, job::Kind::exhaust);
    for (const Route& route : cut.routes)
        for (const Stop& stop : route.stops) {
            // m_v + s_v − zeta, every old seat at its drawing height here.
            const double m = held_at(s.hold, stop.valve).held->map.z();
            EXPECT_NEAR(stop.z, m - 0.15 - route.zeros[0].taken.zeta, 1e-12) << stop.id;
        }
}

// Metal that a measured section shows above the form is met at the cutting feed, not on the slow way in.
TEST(Plan, TheSlowWayInEndsAboveProudMetal) {
    auto s = shaped(fixtures::wedge_job(), 0.15);
    for (auto& seat : s.shape.seats) seat.proud = seat.valve == 0 ? 1.0 : 0.0;
    for (const Route& route : s.plan().routes)
        for (const Stop& stop : route.stops) {
            EXPECT_NEAR(stop.approach - stop.z, (stop.valve == 0 ? 1.15 : 0.15) + least_approach, 1e-9)
                << stop.id;
            EXPECT_NEAR(stop.finish_from - stop.z, 0.05, 1e-9);
            // The tip, 110 below the gauge plane, 5 mm over the mouth, which is 40 − 0.15 below the stop.
            EXPECT_NEAR(stop.over_mouth - stop.z, 110 - 39.85 + 5, 1e-9);
        }
}

// Heights beside the path are counted from the program's own zero.
// A ring newly put in is a section like another, its two top corners (model.md, "Heights of a seat"); where
// nobody read the seat its approach is what it is with those corners typed.
TEST(Plan, TheSlowWayInEndsAboveANewRingThatNobodyRead) {
    auto job = fixtures::wedge_job();
    const auto approach_of = [&](const job::Job& with) {
        auto s = shaped(with);
        shape::Seat& seat = s.shape.seats[1];
        seat.depth.reset();
        seat.stop_s = -0.1;
        const Cut cut = s.plan();
        for (const Route& route : cut.routes)
            for (const Stop& stop : route.stops)
                if (stop.valve == seat.valve) return stop.approach - stop.z - (stop.short_cut ? -0.1 : 0);
        return 0.0;
    };
    const auto said = [&](const job::Job& with, const char* words) {
        auto s = shaped(with);
        s.shape.seats[1].depth.reset();
        s.shape.seats[1].stop_s = -0.1;
        const Cut cut = s.plan();
        return std::any_of(cut.assumptions.begin(), cut.assumptions.end(),
                           [&](const Sentence& one) { return spoken(one).find(words) != std::string::npos; });
    };
    const job::Kind kind = job.head.valves[1].kind;
    const double bare = approach_of(job);
    EXPECT_NEAR(bare, 0.1 + least_approach, 1e-9);
    EXPECT_TRUE(said(job, "stand no higher than drawn"));
    const shape::Section form = fixtures::section_of(*job.valve[kind], *job.seat[kind]);
    job.seat[kind]->insert =
        job::Insert{2 * form.points.back().x() + 4, 2 * form.points.front().x() - 2, 6, {}, ""};
    // The form's innermost point meets the ring's flat top first; the blade's own goes further in by less
    // than 1.
    const double held_by = form.points.back().y() - form.points.front().y();
    EXPECT_GT(held_by, 1);
    EXPECT_GE(approach_of(job), bare + held_by - 1e-9);
    EXPECT_LT(approach_of(job), bare + held_by + 1);
    EXPECT_TRUE(said(job, "a ring newly put in, its top level"));
}

TEST(Plan, TheClearHeightIsTheSameWhateverZCountsFrom) {
    auto job = fixtures::wedge_job();
    for (auto& valve : job.head.valves) valve.seat.z() += 5;
    const auto above_datum = [&](const char* touched) {
        job.depth.zero_on = touched;
        const Cut cut = shaped(job).plan();
        return cut.routes.at(0).clear + cut.routes[0].zeros.at(0).taken.zeta;
    };
    // Each is rounded up to its own whole millimetre.
    EXPECT_NEAR(above_datum("1E"), above_datum("4E"), 1.0);
}

// What was guessed once is asked for by name now.
TEST(Plan, ALengthThatIsNotSaidIsAskedForByItsKey) {
    struct Case {
        const char* key;
        void (*forget)(job::Job&);
    };
    const Case cases[] = {{"pilot.reach",
                           [](job::Job& j) {
                               for (auto& p : j.pilots) p.reach.reset();
                           }},
                          {"pilot.slide",
                           [](job::Job& j) {
                               for (auto& p : j.pilots) p.slide.reset();
                           }},
                          {"cutter.drop", [](job::Job& j) { j.cutters[0].drop.reset(); }},
                          {"guide.intake.to_seat", [](job::Job& j) { j.guide.intake->to_seat.reset(); }},
                          {"guide.exhaust.length", [](job::Job& j) { j.guide.exhaust->length.reset(); }},
                          {"guide.intake.below", [](job::Job& j) { j.guide.intake->below.reset(); }}};
    for (const Case& c : cases) {
        auto job = fixtures::wedge_job();
        job.pilots.resize(2);  // the tapered ones
        c.forget(job);
        const Cut cut = shaped(job).plan();
        bool asked = false;
        for (const HeldBack& held : cut.held_back) {
            EXPECT_EQ(held.code, HeldCode::missing) << spoken(held.reason);
            asked = asked || spoken(held.frees) == c.key;
            EXPECT_EQ(held.setup, "A");
        }
        EXPECT_TRUE(asked) << c.key;
        const bool one_kind = std::string(c.key).starts_with("guide");
        EXPECT_EQ(cut.programs.size(), one_kind ? 1u : 0u) << c.key;
    }
}

// 20 to 40 m/min: the lower third ends at 26.7; the whole range's fastest stands beside it.
TEST(Plan, SpeedsStayInTheLowerThirdUnlessTheFastestIsAskedFor) {
    auto job = fixtures::wedge_job();
    job.machine.mode.reset();  // no chatter to heed
    const Cut third = shaped(job).plan();
    job.cut.speed = job::SpeedRule::fastest;
    const Cut fastest = shaped(job).plan();
    for (std::size_t i = 0; i < third.seats.size(); ++i) {
        EXPECT_LE(third.seats[i].surface_speed, 20 + 20.0 / 3);
        EXPECT_GT(third.seats[i].surface_speed, 25.5);
        EXPECT_GT(fastest.seats[i].surface_speed, 38.5);
        EXPECT_EQ(third.seats[i].fastest_rpm, fastest.seats[i].rpm);
        EXPECT_EQ(third.seats[i].finish_feed, 0.02);
    }
}

TEST(Plan, SpeedFeedAndLoadsFollowTheModel) {
    const auto s = shaped(fixtures::wedge_job());
    const Cut cut = s.plan();
    const job::Material& iron = s.job.materials[0];
    ASSERT_FALSE(cut.seats.empty());
    for (const SeatCut& seat : cut.seats) {
        const auto& points = s.shape.seats[seat.valve].section.points;
        const double largest = 2 * points.back().x();
        EXPECT_NEAR(seat.surface_speed, pi * largest * seat.rpm / 1000, 1e-9);
        EXPECT_TRUE(iron.speed->contains(seat.surface_speed)) << seat.surface_speed;
        EXPECT_TRUE(iron.feed->contains(seat.feed)) << seat.feed;
        EXPECT_NEAR(std::remainder(seat.rpm, s.job.machine.rpm_step), 0, 1e-9);
        // Kienzle per facet, from the section's corners (model: section 4 of what each stage computes).
        double torque = 0, thrust = 0;
        for (std::size_t i = 1; i < points.size(); ++i) {
            const Vec2 d = points[i] - points[i - 1];
            const double b = d.norm(), cosine = d.x() / b, h = seat.feed * cosine;
            const double force = 1150 * std::pow(h, 0.8) * b;
            torque += force * 0.5 * (points[i].x() + points[i - 1].x());
            thrust += 0.5 * force * cosine;
        }
        EXPECT_NEAR(seat.torque, torque, 1e-9 * torque);
        EXPECT_NEAR(seat.thrust, thrust, 1e-9 * thrust);
        EXPECT_NEAR(seat.power, 2 * pi * seat.rpm * torque / 1000 / 60, 1e-9 * seat.power);
        EXPECT_NEAR(seat.chip, seat.feed * std::cos(rad(45)), 1e-12);
        // The dwell takes back what the finishing feed bent.
        const double left = thrust * std::pow(seat.finish_feed / seat.feed, 0.8);
        const double K = left / seat.finish_feed, k = *s.job.machine.axial_stiffness;
        EXPECT_LE(left / k * std::pow(K / (K + k), seat.dwell_turns), dwell_residue * (1 + 1e-9));
    }
}

TEST(Plan, RowsOfAPentRoofAreTwoSetupsWithTheCutterLeftInAcrossThem) {
    auto job = fixtures::pent_roof_job();
    job.valve.exhaust = job.valve.intake;  // one form, one blade setting
    const auto s = shaped(job);
    const Cut cut = s.plan();
    ASSERT_EQ(s.hold.setups.size(), 2u);
    EXPECT_EQ(cut.programs.size(), 2u);
    EXPECT_EQ(cut.routes.size(), 2u);
    EXPECT_EQ(cut.cutter_changes, 0);
    EXPECT_EQ(cut.tools.size(), 1u);
}

TEST(Plan, TouchedGuidesAreProgrammedWhereTheyWereFound) {
    auto s = shaped(fixtures::wedge_job());
    find::FoundSetup found;
    found.id = "A";
    for (const auto& held : s.hold.setups[0].valves) {
        find::FoundGuide guide;
        guide.valve = held.valve;
        guide.programmed = held.readout + Vec2(0.031, -0.017);
        guide.touched = held.valve == 0;
        found.guides.push_back(guide);
    }
    find::FoundHead head;
    head.head = "1";
    head.setups = {found};
    s.find.heads.push_back(head);
    const Cut cut = s.plan();
    ASSERT_EQ(cut.routes.size(), 2u);
    EXPECT_TRUE(cut.routes[0].from_touches);
    for (const Route& route : cut.routes)
        for (const Stop& stop : route.stops)
            for (const auto& held : s.hold.setups[0].valves) {
                if (held.valve != stop.valve) continue;
                EXPECT_NEAR((stop.at - held.readout - Vec2(0.031, -0.017)).norm(), 0, 1e-12);
            }
}

TEST(Plan, SeatsWithoutCutterOrDepthAreLeftOutAndSaid) {
    auto s = shaped(fixtures::wedge_job());
    s.shape.seats[2].cutter.reset();
    s.shape.seats[5].depth.reset();
    s.shape.seats[6].decision = shape::Decision::not_allowed;
    const Cut cut = s.plan();
    EXPECT_EQ(cut.seats.size(), 7u);
    EXPECT_EQ(cut.order.size(), 5u);
    std::set<std::string> codes;
    for (const auto& warning : cut.warnings) codes.insert(warning.code);
    EXPECT_TRUE(codes.count("no-cutter"));
    EXPECT_TRUE(codes.count("no-depth"));
    std::map<std::string, HeldCode> held;
    for (const HeldBack& entry : cut.held_back) held.emplace(entry.valve.value_or(""), entry.code);
    EXPECT_EQ(held.size(), 3u);
    EXPECT_EQ(held[s.job.head.valves[2].id], HeldCode::no_cutter);
    EXPECT_EQ(held[s.job.head.valves[5].id], HeldCode::not_measured);
    EXPECT_EQ(held[s.job.head.valves[6].id], HeldCode::not_allowed);
    for (const Route& route : cut.routes)
        for (const Stop& stop : route.stops) EXPECT_FALSE(held.count(stop.id)) << stop.id;
}

// Speed and feed of another material stand in for one that is not on the shelf, which is a STOP of the whole
// kind: a seat held back for a reason of its own does not let the others past it.
TEST(Plan, AStopThatNamesNoSeatHoldsTheHeadWhateverElseIsHeld) {
    auto s = shaped(fixtures::wedge_job());
    s.job.seat.exhaust->material = "an alloy nobody wrote down";
    for (const bool another : {false, true}) {
        if (another) s.shape.seats[5].depth.reset();
        const Cut cut = s.plan();
        EXPECT_TRUE(cut.programs.empty()) << another;
        EXPECT_TRUE(std::any_of(cut.held_back.begin(), cut.held_back.end(), [](const HeldBack& entry) {
            return !entry.valve && entry.code == HeldCode::safety;
        })) << another;
    }
}

TEST(Plan, ATableTooShortForTheClearHeightHandsOutNoProgram) {
    auto job = fixtures::wedge_job();
    job.machine.travel_z = 60;
    const Cut cut = shaped(job).plan();
    EXPECT_TRUE(cut.programs.empty());
    bool refused = false;
    for (const auto& warning : cut.warnings)
        refused = refused || (warning.code == "program-refused" && warning.severity == Severity::blocking);
    EXPECT_TRUE(refused);
}

TEST(Plan, InchAndMillimetreJobsOfOneHeadGiveTheSamePlan) {
    auto inch = fixtures::wedge_job();
    inch.units = LengthUnit::inch;
    const Cut a = shaped(fixtures::wedge_job()).plan(), b = shaped(inch).plan();
    ASSERT_EQ(a.seats.size(), b.seats.size());
    for (std::size_t i = 0; i < a.seats.size(); ++i) {
        EXPECT_EQ(a.seats[i].rpm, b.seats[i].rpm);
        EXPECT_EQ(a.seats[i].seconds, b.seats[i].seconds);
    }
    EXPECT_EQ(a.order, b.order);
    ASSERT_EQ(b.programs.size(), 2u);
    EXPECT_NE(b.programs[0].text.find("G20"), std::string::npos);
}

TEST(Plan, CalmSpeedsLieInTheMachinesRangeAndFollowTheFormula) {
    const Cut cut = shaped(fixtures::wedge_job()).plan();
    ASSERT_FALSE(cut.calm_rpm.empty());
    for (const double rpm : cut.calm_rpm) {
        EXPECT_GE(rpm, 60);
        EXPECT_LE(rpm, 1500);
        const double j = 60 * 180.0 / rpm;
        EXPECT_NEAR(j, std::round(j), 1e-9 * j);
    }
}

TEST(Plan, SameInputSameBits) {
    const auto s = shaped(fixtures::pent_roof_job());
    const Cut a = s.plan(), b = s.plan();
    ASSERT_EQ(a.programs.size(), b.programs.size());
    for (std::size_t i = 0; i < a.programs.size(); ++i) EXPECT_EQ(a.programs[i].text, b.programs[i].text);
}

}  // namespace
}  // namespace seatwright::cut
