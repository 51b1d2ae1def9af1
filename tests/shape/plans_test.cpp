// The two plans: by cleanup and to a finished height, what each needs, and what is held back. Worked figures
// of the canted head and the parallel diesel; they were made with a second, points-only program.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "job_fixtures.hpp"
#include "seatwright/hold/hold.hpp"
#include "seatwright/shape/finish.hpp"
#include "seatwright/shape/shape.hpp"
#include "seatwright/shape/zero.hpp"
#include "spoken.hpp"

namespace seatwright::shape {
namespace {

constexpr double figure = 5e-5;  // figures are given to 1e-4

// Intakes 1I and 3I of the canted head, incline 22, cant 4, held plumb in one setup.
struct Canted {
    job::Job job = fixtures::wedge_job(1);
    hold::Hold hold;

    Canted() {
        job.head.valves.clear();
        for (const auto& [id, x] : {std::pair{"1I", -24.5}, {"3I", 211.5}})
            job.head.valves.push_back({id, id[0] - '0', job::Kind::intake, Vec3(x, 9, -12), rad(22), rad(4)});
        job.seat.intake->old_as_drawn = false;
        job.seat.intake->stem_height = 51.0;
        job.seat.intake->stem_height_max = 52.0;
        job.seat.intake->recession_max = 1.5;
        job.depth.cleanup_margin = 0.03;
        job.cutters[0].facets[1].width = job.seat.intake->width;  // the blade cuts the face as drawn
        hold::Setup setup;
        setup.id = "A";
        const Vec3 a = job.head.valves[0].axis();
        setup.swing = -std::atan2(a.x(), a.z());
        setup.tilt = std::atan2(a.y(), std::hypot(a.x(), a.z()));
        for (std::size_t v = 0; v < 2; ++v) {
            hold::Held held;
            held.valve = v;
            held.map = setup.rotation() * (job.head.valves[v].seat - job.head.valves[0].seat);
            setup.valves.push_back(held);
        }
        hold.setups.push_back(setup);
    }
    job::SeatBefore& read(const char* id) {
        for (auto& r : job.readings.seats)
            if (r.valve == id) return r;
        job::SeatBefore r;
        r.valve = id;
        job.readings.seats.push_back(r);
        return job.readings.seats.back();
    }
    job::SeatForm& form() { return *job.seat.intake; }
    Shape shape() const { return design(job, hold, {}, "1"); }
    double m(std::size_t v) const { return hold.setups[0].valves[v].map.z(); }
    // Z of seat v where Z0 was taken on the old seat of u.
    double touched_z(const Shape& s, std::size_t v, std::size_t u, double feeler = 0) const {
        const double zeta = zeta_of(OldSeatTouch{m(u), s.seats[u].height.recession.value(),
                                                 s.seats[u].rest.value_or(0), feeler, rad(45)});
        return stop_z(m(v), s.seats[v].stop_s.value(), zeta);
    }
};

const HeldBack* held(const Shape& shape, const std::string& valve, HeldCode code) {
    const auto at = std::find_if(shape.held_back.begin(), shape.held_back.end(),
                                 [&](const HeldBack& h) { return h.valve == valve && h.code == code; });
    return at == shape.held_back.end() ? nullptr : &*at;
}
bool said(const Shape& shape, const std::string& code, Severity severity) {
    return std::any_of(shape.warnings.begin(), shape.warnings.end(),
                       [&](const Warning& w) { return w.code == code && w.severity == severity; });
}

TEST(CleanupPlan, StopsOfTheCantedHead) {
    Canted canted;
    EXPECT_NEAR(canted.m(1), 15.2690, figure);
    canted.read("1I").recession = 0.25;
    canted.read("1I").cleanup = 0.16;
    canted.read("3I").recession = 0.27;
    canted.read("3I").cleanup = 0.12;
    canted.job.depth.stem_spread.reset();
    const Shape s = canted.shape();
    EXPECT_NEAR(*s.seats[0].depth, 0.19, 1e-12);
    EXPECT_NEAR(*s.seats[1].depth, 0.15, 1e-12);
    EXPECT_NEAR(canted.touched_z(s, 0, 0), -0.1900, figure);
    EXPECT_NEAR(canted.touched_z(s, 1, 0), 15.0990, figure);
    EXPECT_NEAR(canted.touched_z(s, 0, 0, 0.05), -0.2607, figure);
    EXPECT_NEAR(canted.touched_z(s, 1, 0, 0.05), 15.0283, figure);
    // An old face wider by 0.7, half each side: the cutter rests 0.1812 high.
    canted.read("1I").face_outside = s.seats[0].section.contact_od + 0.7 * std::cos(rad(45));
    canted.read("1I").face_width = canted.form().width + 0.7;
    const Shape wide = canted.shape();
    EXPECT_NEAR(*wide.seats[0].rest, 0.1812, figure);
    EXPECT_NEAR(canted.touched_z(wide, 0, 0), -0.3712, figure);
    EXPECT_NEAR(canted.touched_z(wide, 1, 0), 14.9178, figure);
    // Along the axis from the cut deck.
    canted.job.depth.from = job::DepthFrom::deck;
    canted.job.depth.deck_cut = 0.10;
    const Shape deck = canted.shape();
    EXPECT_NEAR(*deck.seats[0].z, -13.3015, figure);
    EXPECT_NEAR(*deck.seats[1].z, -13.2815, figure);
}

// A blade longer than the form strikes what lies beyond it, and nothing within it changes.
TEST(CleanupPlan, TheWholeBladeComesToRest) {
    Canted canted;
    canted.job.cutters[0].gauge_diameter = {24, 60};
    const Section form = canted.shape().seats[0].section;
    const Vec2 out = form.points.back();
    canted.read("1I").section = {Vec2(form.points[1].x(), form.points[1].y() - 0.2),
                                 Vec2(out.x(), out.y() - 0.2), Vec2(out.x() + 0.2, out.y() + 0.3)};
    const Shape s = canted.shape();
    ASSERT_TRUE(s.seats[0].cutter);
    EXPECT_NEAR(*s.seats[0].rest, 0.3 - 0.2 * std::tan(rad(30)), 1e-9);
}

TEST(CleanupPlan, ASeatThatLacksAReadingDragsNoOther) {
    auto job = fixtures::wedge_job();
    for (const auto kind : job::both_kinds) job.seat[kind]->old_as_drawn = false;
    job.depth.stem_spread = 0.1;
    job.depth.chamber_spread = 1;
    const auto hold = hold::plan(job);
    for (const auto& v : job.head.valves) {
        job::SeatBefore r;
        r.valve = v.id;
        r.stem_height = 47.5;
        r.recession = 0.1;
        r.cleanup = 0.12;
        job.readings.seats.push_back(r);
    }
    const auto index = [&](const char* id) { return *job.head.index_of(id); };
    job.readings.seats[index("2I")].recession.reset();
    job.readings.seats[index("3E")].cleanup.reset();
    job.readings.seats[index("3E")].stem_height = 46;  // would drag the others if it were planned
    const Shape s = design(job, hold, {}, "1");
    for (std::size_t v = 0; v < s.seats.size(); ++v) {
        const std::string& id = job.head.valves[v].id;
        if (id == "2I" || id == "3E") {
            EXPECT_EQ(s.seats[v].decision, Decision::not_measured) << id;
            EXPECT_FALSE(s.seats[v].depth) << id;
            EXPECT_FALSE(s.seats[v].stop_s) << id;
        } else {
            EXPECT_NEAR(s.seats[v].depth.value(), 0.14, 1e-9) << id;
        }
    }
    EXPECT_TRUE(s.depth.feasible);
    EXPECT_NEAR(*s.depth.total, 6 * 0.14, 1e-9);
    ASSERT_TRUE(held(s, "2I", HeldCode::not_measured));
    EXPECT_NE(spoken(held(s, "2I", HeldCode::not_measured)->frees).find("recession of 2I"),
              std::string::npos);
    EXPECT_EQ(spoken(held(s, "3E", HeldCode::not_measured)->frees), "the cleanup of 3E (or its section)");
    EXPECT_EQ(s.held_back.size(), 2u);
    // The shop's usual cleanup, or a new head, frees them.
    job.readings.seats[index("3E")].stem_height = 47.5;
    job.seat.exhaust->cleanup = 0.1;
    job.seat.intake->old_as_drawn = true;
    const Shape freed = design(job, hold, {}, "1");
    EXPECT_TRUE(freed.held_back.empty());
    EXPECT_NEAR(*freed.seats[index("3E")].cleanup, 0.12, 1e-12);
    EXPECT_TRUE(said(freed, "cleanup-usual", Severity::note));
}

TEST(CleanupPlan, WindowsHaveBothEnds) {
    Canted canted;
    canted.read("1I").recession = -1.2;  // proud
    canted.read("1I").cleanup = 0.16;
    canted.read("3I").recession = 0.27;
    canted.read("3I").cleanup = 0.16;
    canted.form().recession_min = -0.5;
    canted.job.depth.stem_spread.reset();
    const Shape s = canted.shape();
    EXPECT_NEAR(*s.seats[0].depth, 0.70, 1e-9);
    EXPECT_NEAR(*s.seats[0].recession_after, -0.5, 1e-9);
    EXPECT_NEAR(*s.seats[1].depth, 0.19, 1e-9);
    EXPECT_TRUE(said(s, "window", Severity::note));
    canted.form().stem_height_max = 51.3;  // no room for it
    canted.read("1I").stem_height = 51;
    const Shape full = canted.shape();
    EXPECT_EQ(full.seats[0].decision, Decision::insert);
    EXPECT_TRUE(held(full, "1I", HeldCode::too_deep));
    EXPECT_FALSE(held(full, "3I", HeldCode::too_deep));
}

TEST(CleanupPlan, ADepthByHandIsFixed) {
    Canted canted;
    canted.job.depth.step = 0.05;
    canted.job.depth.stem_spread = 0.05;
    for (const char* id : {"1I", "3I"}) {
        canted.read(id).recession = 0.25;
        canted.read(id).stem_height = 51.0;
        canted.read(id).cleanup = 0.07;
    }
    canted.job.depth.seats.push_back({"3I", 0.33, std::nullopt, 0});
    const Shape s = canted.shape();
    EXPECT_NEAR(*s.seats[1].depth, 0.33, 1e-12);
    EXPECT_NEAR(*s.seats[0].depth, 0.30, 1e-9);  // in whole steps, within 0.05 of it
    EXPECT_NEAR(*s.depth.total, 0.63, 1e-9);
    EXPECT_NEAR(*s.depth.stem_spread.intake, 0.03, 1e-9);
    EXPECT_TRUE(s.held_back.empty());
    // Less than it takes to clean up is that person's choice; beyond a limit is not.
    canted.job.depth.stem_spread.reset();
    canted.job.depth.seats.back().depth = 0.02;
    EXPECT_TRUE(said(canted.shape(), "old-surface-may-stay", Severity::note));
    EXPECT_TRUE(canted.shape().held_back.empty());
    canted.job.depth.seats.back().depth = 1.4;
    EXPECT_TRUE(held(canted.shape(), "3I", HeldCode::too_deep));
}

TEST(HeightPlan, NeedsNoReadingAtAll) {
    Canted canted;
    canted.job.depth.to = job::DepthTo::height;
    canted.job.depth.from = job::DepthFrom::deck;
    canted.job.depth.deck_cut = 0.10;
    canted.form().finish = job::Finish{std::nullopt, std::nullopt, 0.42};
    const Shape s = canted.shape();
    EXPECT_TRUE(s.held_back.empty());
    for (const Seat& seat : s.seats) {
        EXPECT_EQ(seat.decision, Decision::cut);
        EXPECT_FALSE(seat.depth);
        EXPECT_NEAR(*seat.z, -13.2815, figure);
        EXPECT_NEAR(*seat.stem_height_after, 51.42, 1e-12);
        EXPECT_NEAR(*seat.recession_after, 0.42, 1e-12);
    }
    EXPECT_FALSE(s.depth.total);
    EXPECT_NEAR(*s.depth.stem_spread.intake, 0, 1e-12);
}

TEST(HeightPlan, ByATouchOnTheCantedHead) {
    Canted canted;
    canted.job.depth.to = job::DepthTo::height;
    canted.form().finish = job::Finish{std::nullopt, std::nullopt, 0.42};
    const Shape unread = canted.shape();
    for (const char* id : {"1I", "3I"}) {
        ASSERT_TRUE(held(unread, id, HeldCode::not_measured));
        EXPECT_NE(spoken(held(unread, id, HeldCode::not_measured)->frees).find("recession of 1I"),
                  std::string::npos);
    }
    canted.read("1I").recession = 0.25;
    const Shape s = canted.shape();
    EXPECT_TRUE(s.held_back.empty());
    EXPECT_NEAR(canted.touched_z(s, 0, 0), -0.1700, figure);
    EXPECT_NEAR(canted.touched_z(s, 1, 0), 15.0990, figure);
    EXPECT_NEAR(*s.seats[0].depth, 0.17, 1e-12);
    EXPECT_FALSE(s.seats[1].depth);
    canted.read("3I").recession = 0.27;
    EXPECT_NEAR(*canted.shape().seats[1].depth, 0.15, 1e-12);
    // 0.17 where 0.19 cleans up: cut, and looked at.
    canted.read("1I").cleanup = 0.16;
    EXPECT_TRUE(said(canted.shape(), "old-surface-may-stay", Severity::note));
    EXPECT_TRUE(canted.shape().held_back.empty());
    canted.read("1I").cleanup = 0.10;
    EXPECT_FALSE(said(canted.shape(), "old-surface-may-stay", Severity::note));
}

TEST(HeightPlan, AnOldSeatBelowTheFinishIsNotCutInAir) {
    Canted canted;
    canted.job.depth.to = job::DepthTo::height;
    canted.form().finish = job::Finish{51.20, std::nullopt, std::nullopt};
    canted.read("1I").recession = 0.25;
    canted.read("1I").cleanup = 0.10;
    const Shape s = canted.shape();
    EXPECT_NEAR(*s.seats[0].finished_recession, 0.2000, 1e-12);
    EXPECT_NEAR(canted.touched_z(s, 0, 0), 0.0500, figure);
    EXPECT_EQ(s.seats[0].decision, Decision::below_finish);
    ASSERT_TRUE(held(s, "1I", HeldCode::below_finish));
    EXPECT_NE(spoken(held(s, "1I", HeldCode::below_finish)->frees).find("0.130 mm"), std::string::npos);
    EXPECT_EQ(s.seats[1].decision, Decision::cut);
    // A lead lets it pass, by name and with the reason.
    canted.job.allow.push_back({"below finish 1I", "the valve is ground", "lead", 0});
    const Shape passed = canted.shape();
    EXPECT_TRUE(passed.held_back.empty());
    EXPECT_EQ(passed.seats[0].decision, Decision::cut);
    const auto at = std::find_if(passed.warnings.begin(), passed.warnings.end(),
                                 [](const Warning& w) { return w.code == "below-finish-allowed"; });
    ASSERT_NE(at, passed.warnings.end());
    EXPECT_NE(spoken(at->text).find("lead lets it pass: the valve is ground"), std::string::npos);
}

// A valve read on its own old seat: the stem height wanted is that valve's.
TEST(HeightPlan, AValveReadOnItsOwnSeatEndsAtTheHeightWanted) {
    Canted canted;
    canted.job.depth.to = job::DepthTo::height;
    canted.form().finish = job::Finish{51.20, std::nullopt, std::nullopt};
    canted.read("1I").recession = 0.25;
    canted.read("1I").stem_height = 51.04;
    const Shape s = canted.shape();
    EXPECT_NEAR(*s.seats[0].finished_recession, 0.25 + 51.20 - 51.04, 1e-12);
    EXPECT_NEAR(*s.seats[0].stem_height_after, 51.20, 1e-12);
}

// Head face 2.40 over the gauge plane, guides square to the deck: 1.00 below the drawing's deck.
TEST(HeightPlan, ParallelDiesel) {
    EXPECT_NEAR(finish_of_below_deck(1.10, 1.00, 0.20, 1), 0.3000, 1e-12);
    Canted diesel;
    for (auto& v : diesel.job.head.valves) v.incline = v.cant = 0, v.seat.z() = -3.40;
    diesel.hold = {};
    diesel.job.depth.to = job::DepthTo::height;
    diesel.job.depth.from = job::DepthFrom::deck;
    diesel.job.depth.deck_cut = 0.20;
    diesel.job.depth.cleanup_margin = 0;
    diesel.form().below_deck = 1.00;
    diesel.form().below_deck_max = 1.62;
    diesel.form().finish = job::Finish{std::nullopt, 1.10, std::nullopt};
    diesel.read("1I").below_deck = 1.35;
    diesel.read("1I").cleanup = 0.12;
    const Shape s = diesel.shape();
    EXPECT_NEAR(*s.seats[0].finished_recession, 0.3000, 1e-12);
    EXPECT_NEAR(*s.seats[1].z, -3.5000, 1e-12);
    EXPECT_NEAR(*s.seats[0].height.recession, 0.35, 1e-12);
    EXPECT_NEAR(*s.seats[0].depth, -0.0500, 1e-12);
    EXPECT_EQ(s.seats[0].decision, Decision::below_finish);
    // Its own cleanup leaves it 1.27 below the new deck, inside the window: that is what is offered.
    EXPECT_NE(spoken(held(s, "1I", HeldCode::below_finish)->frees).find("its own depth"), std::string::npos);
    diesel.job.depth.to = job::DepthTo::cleanup;
    const Shape own = diesel.shape();
    EXPECT_NEAR(*own.seats[0].depth, 0.12, 1e-12);
    EXPECT_NEAR(*own.seats[0].depth_high, 1.62 - 1.15, 1e-12);
    EXPECT_NEAR(-deck_to_stop(-3.40, 0.20, 1, *own.seats[0].stop_s) - 2.40, 1.2700, 1e-12);
    diesel.form().below_deck_max = 1.2;
    diesel.job.depth.to = job::DepthTo::height;
    EXPECT_TRUE(spoken(held(diesel.shape(), "1I", HeldCode::below_finish)->frees).starts_with("an insert"));
}

TEST(HeightPlan, AFinishOutsideItsWindowOrWithoutItsDrawingIsHeldBack) {
    Canted canted;
    canted.job.depth.to = job::DepthTo::height;
    canted.job.depth.from = job::DepthFrom::deck;
    canted.form().finish = job::Finish{std::nullopt, std::nullopt, 1.6};
    EXPECT_TRUE(held(canted.shape(), "3I", HeldCode::too_deep));
    canted.form().finish->recession = -0.3;
    canted.form().recession_min = -0.1;
    EXPECT_TRUE(held(canted.shape(), "3I", HeldCode::not_allowed));
    canted.form().finish = job::Finish{std::nullopt, 1.1, std::nullopt};
    ASSERT_TRUE(held(canted.shape(), "3I", HeldCode::missing));
    EXPECT_EQ(spoken(held(canted.shape(), "3I", HeldCode::missing)->frees), "seat.intake.below_deck");
    // One seat by hand, in either plan.
    canted.form().finish = job::Finish{std::nullopt, std::nullopt, 0.4};
    canted.job.depth.seats.push_back({"3I", std::nullopt, job::Finish{std::nullopt, std::nullopt, 0.6}, 0});
    const Shape s = canted.shape();
    EXPECT_NEAR(*s.seats[0].finished_recession, 0.4, 1e-12);
    EXPECT_NEAR(*s.seats[1].finished_recession, 0.6, 1e-12);
}

// By hand: a spread of 0.30; 1I needs 0.84 and takes the other three intakes from 0.14 to 0.54 each.
TEST(DeepSeat, BothWaysAreShown) {
    auto job = fixtures::wedge_job();
    for (const auto& v : job.head.valves) {
        job::SeatBefore r;
        r.valve = v.id;
        r.stem_height = 47.5;
        r.recession = 0.05;
        r.cleanup = v.id == "1I" ? 0.82 : 0.12;
        job.readings.seats.push_back(r);
    }
    const auto words = [&] {
        for (const auto& w : design(job, {}, {}, "1").warnings)
            if (w.code == "deep-seat") return w.valve.value_or("") + ": " + spoken(w.text);
        return std::string();
    };
    const std::string said_so = words();
    EXPECT_EQ(said_so.substr(0, 4), "1I: ");
    EXPECT_NE(said_so.find("3 seats deeper by 1.200 mm in total, or one insert at 1I"), std::string::npos)
        << said_so;
    EXPECT_NE(said_so.find("3.020 mm as planned, 0.980 mm with the insert"), std::string::npos) << said_so;
    for (auto& r : job.readings.seats)
        if (r.valve == "1I") r.cleanup = 0.3;
    EXPECT_EQ(words(), "");
}

}  // namespace
}  // namespace seatwright::shape
