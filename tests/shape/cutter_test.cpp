// The choice of a cutter, and what is said of those that do not fit.
#include "seatwright/shape/cutter.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "job_fixtures.hpp"
#include "spoken.hpp"

namespace seatwright::shape {
namespace {

job::Cutter three_face(const char* name, double throat, double face, double top, double face_deg = 45) {
    return {name, {{rad(60), throat}, {rad(face_deg), face}, {rad(30), top}}, {30, 50}, 1};
}

TEST(Cutter, LeastDeviationOfTheFaceThenOfTheRest) {
    auto job = fixtures::wedge_job();
    job.seat.intake->width_tol = 0.5;
    job.cutters = {three_face("wide", 1.6, 1.8, 1.4), three_face("long", 3, 1.5, 3),
                   three_face("fit", 1.3, 1.5, 1.1), three_face("fit again", 1.3, 1.5, 1.1)};
    const auto choice = choose_cutter(job, job::Kind::intake);
    ASSERT_TRUE(choice.cutter);
    EXPECT_EQ(job.cutters[*choice.cutter].name, "fit");
    EXPECT_NEAR(choice.cut_width, 1.5, 1e-12);
    EXPECT_NEAR(choice.cut_contact_od, 43.5, 1e-9);
    EXPECT_NEAR(choice.blade_setting, choice.blade.gauge, 1e-12);
}

TEST(Cutter, AnglesWithinATenthOfADegree) {
    auto job = fixtures::wedge_job();
    job.cutters = {three_face("near", 1.6, 1.5, 1.4, 45.1)};
    EXPECT_TRUE(choose_cutter(job, job::Kind::intake).cutter);
    job.cutters = {three_face("off", 1.6, 1.5, 1.4, 45.11)};
    EXPECT_FALSE(choose_cutter(job, job::Kind::intake).cutter);
}

TEST(Cutter, NearMissesAreExplainedNearestFirst) {
    auto job = fixtures::wedge_job();
    job.cutters = {{"single", {{rad(45), 2}}, {30, 50}, 1},
                   three_face("short and small", 1.1, 1.5, 0.7),
                   three_face("short top", 1.6, 1.6, 0.7)};
    job.cutters[1].gauge_diameter = {20, 30};
    const auto misses = near_misses(job, job::Kind::intake);
    ASSERT_EQ(misses.size(), 3u);
    const auto of = [&](std::size_t cutter) {
        for (const auto& m : misses)
            if (m.cutter == cutter) return spoken(m.why);
        return std::string();
    };
    EXPECT_EQ(of(2), "30 deg facet 0.300 mm short");
    EXPECT_EQ(of(0), "facets: 1 where the form has 3");
    EXPECT_NE(of(1).find("60 deg facet 0.100 mm short"), std::string::npos);
    EXPECT_NE(of(1).find("outside its 20.000 mm to 30.000 mm"), std::string::npos);
    EXPECT_EQ(misses.back().cutter, 1u);  // most faults last
}

TEST(Cutter, GaugeRangeIncludesItsEnds) {
    auto job = fixtures::wedge_job();
    const double gauge = choose_cutter(job, job::Kind::intake).blade_setting;
    job.cutters[0].gauge_diameter = {gauge, gauge};
    EXPECT_TRUE(choose_cutter(job, job::Kind::intake).cutter);
    job.cutters[0].gauge_diameter = {gauge + 0.01, gauge + 1};
    EXPECT_FALSE(choose_cutter(job, job::Kind::intake).cutter);
}

// The form's 1.4, 1.5, 1.1 mm in inches of five decimals are up to 0.1 um short: no near miss, and no reason
// to prefer another blade.
TEST(Cutter, AnInchShelfServesAFormInMm) {
    auto job = fixtures::wedge_job();
    const auto& form = *job.seat[job::Kind::intake];
    const auto inches = [](double mm, double off) { return std::round(mm / 25.4 * 1e5) / 1e5 * 25.4 - off; };
    const auto blade = [&](const char* name, double off) {
        return three_face(name, inches(form.throat[0].width, off), inches(form.width, off),
                          inches(form.top[0].width, off));
    };
    job.cutters = {blade("inch", 0)};
    EXPECT_TRUE(choose_cutter(job, job::Kind::intake).cutter);
    job.cutters = {three_face("mm", form.throat[0].width + 5e-5, form.width + 5e-5, form.top[0].width),
                   blade("inch", 0)};
    EXPECT_EQ(choose_cutter(job, job::Kind::intake).cutter, std::size_t(0));
    job.cutters = {blade("a um short", 1e-3)};
    EXPECT_FALSE(choose_cutter(job, job::Kind::intake).cutter);
}

// Section geometry by hand: head 44.5, inset 0.5 give D_o 43.5; a 1.5 face at 45 deg gives the middle
// diameter 43.5 − 1.5·cos 45 = 42.439340. A blade set there leaves 42.439340 ± its own width·cos 45.
constexpr double middle = 42.439340;

// Seen: with ±0.25 a blade 0.02 narrow was refused and one 0.37 wide taken.
TEST(Cutter, JudgedByTheSeatItLeaves) {
    auto job = fixtures::wedge_job();
    job.seat.intake->width_tol = 0.25;
    job.cutters = {three_face("0.37 wide", 1.6, 1.87, 1.4), three_face("0.02 narrow", 1.6, 1.48, 1.4)};
    const auto choice = choose_cutter(job, job::Kind::intake);
    ASSERT_TRUE(choice.cutter);
    EXPECT_EQ(job.cutters[*choice.cutter].name, "0.02 narrow");
    EXPECT_NEAR(choice.blade_setting, middle, 1e-6);
    EXPECT_NEAR(choice.cut_width, 1.48, 1e-12);
    EXPECT_NEAR(choice.cut_contact_od, 43.485858, 1e-6);  // 42.439340 + 1.48·cos 45
    EXPECT_FALSE(choice.allowed);

    job.cutters.pop_back();
    EXPECT_FALSE(choose_cutter(job, job::Kind::intake).cutter);
    const auto misses = near_misses(job, job::Kind::intake);
    ASSERT_EQ(misses.size(), 1u);
    EXPECT_NEAR(misses[0].width.value_or(0), 1.87, 1e-12);
    EXPECT_NEAR(misses[0].contact_od.value_or(0), 43.761630, 1e-6);
    EXPECT_EQ(spoken(misses[0].why),
              "it would leave a face 1.870 mm wide and a contact diameter of 43.762 mm: 0.370 mm wider than "
              "asked, 0.250 mm is allowed");
}

// A blade that keeps the tolerances goes before a nearer one that breaks another of them.
TEST(Cutter, OneThatBreaksAToleranceIsNeverTakenWhileAnotherKeepsIt) {
    auto job = fixtures::wedge_job();
    job.seat.intake->width_tol = 0.2;
    job.cutters = {three_face("exact face, short top", 1.6, 1.5, 0.9),
                   three_face("0.21 wide", 1.2, 1.71, 1.0), three_face("0.20 narrow", 1.6, 1.3, 1.4)};
    const auto choice = choose_cutter(job, job::Kind::intake);
    ASSERT_TRUE(choice.cutter);
    EXPECT_EQ(job.cutters[*choice.cutter].name, "0.20 narrow");
    EXPECT_NEAR(choice.cut_contact_od, middle + 1.3 * std::sqrt(0.5), 1e-6);
    // Without a tolerance any width keeps it: the nearest is taken.
    job.seat.intake->width_tol.reset();
    job.cutters[0].facets[2].width = 1.0;
    EXPECT_EQ(choose_cutter(job, job::Kind::intake).cutter, std::size_t(0));
}

TEST(Cutter, NoneKeepsItNearestByOutcomeIsNamed) {
    auto job = fixtures::wedge_job();
    job.seat.intake->width_tol = 0.1;
    job.cutters = {three_face("far", 1.6, 2.2, 1.4), three_face("other angle", 1.6, 1.5, 1.4, 30),
                   three_face("near", 1.6, 1.75, 1.4), three_face("narrow", 1.6, 1.1, 1.4)};
    const auto choice = choose_cutter(job, job::Kind::intake);
    EXPECT_FALSE(choice.cutter);
    const auto misses = near_misses(job, job::Kind::intake);
    ASSERT_EQ(misses.size(), 4u);
    EXPECT_EQ(misses[0].cutter, 2u);  // 0.25 off
    EXPECT_EQ(misses[1].cutter, 3u);  // 0.40 off
    EXPECT_EQ(misses[2].cutter, 0u);  // 0.70 off
    EXPECT_EQ(misses[3].cutter, 1u);  // does not make the form
    EXPECT_FALSE(misses[3].width);
    const auto said = cutter_notices(job, job::Kind::intake, choice, misses);
    ASSERT_EQ(said.warnings.size(), 1u);
    EXPECT_EQ(said.warnings[0].severity, Severity::blocking);
    EXPECT_NE(spoken(said.warnings[0].text).find("the nearest is near: it would leave a face 1.750 mm wide"),
              std::string::npos);
}

// A lead may let a width pass; a facet that is too short may not pass.
TEST(Cutter, AnAllowanceLetsAWidthPassAndNothingElse) {
    auto job = fixtures::wedge_job();
    job.seat.intake->width_tol = 0.1;
    job.cutters = {three_face("short", 1.6, 1.7, 0.8), three_face("wide", 1.6, 1.85, 1.4)};
    job.allow = {{"width exhaust", "wide on purpose", "lead", 1}};
    EXPECT_FALSE(choose_cutter(job, job::Kind::intake).cutter);
    job.allow[0].what = "width intake";
    const auto choice = choose_cutter(job, job::Kind::intake);
    ASSERT_TRUE(choice.cutter);
    EXPECT_EQ(*choice.cutter, 1u);
    EXPECT_EQ(choice.allowed, std::size_t(0));
    EXPECT_NEAR(choice.cut_width, 1.85, 1e-12);
    const auto said = cutter_notices(job, job::Kind::intake, choice, {});
    ASSERT_EQ(said.warnings.size(), 1u);
    EXPECT_EQ(said.warnings[0].severity, Severity::note);
    EXPECT_NE(spoken(said.warnings[0].text).find("let pass by lead: wide on purpose"), std::string::npos);
    // Not while another keeps it.
    job.cutters.push_back(three_face("right", 1.6, 1.6, 1.4));
    EXPECT_EQ(choose_cutter(job, job::Kind::intake).cutter, std::size_t(2));
}

TEST(Cutter, SeatsWithoutOneAreHeldBackByName) {
    auto job = fixtures::wedge_job(1);
    job.seat.intake->width_tol = 0.05;
    job.cutters = {three_face("wide", 1.6, 1.7, 1.4)};
    Shape shape;
    shape.head = "7";
    shape.near_misses = near_misses(job, job::Kind::intake);
    for (std::size_t v = 0; v < job.head.valves.size(); ++v) {
        Seat seat;
        seat.valve = v;
        seat.section.points = {Vec2(20, -1), Vec2(21, 0)};
        if (job.head.valves[v].kind == job::Kind::exhaust) seat.cutter = 0;
        shape.seats.push_back(seat);
    }
    const auto held = held_without_cutter(job, shape);
    ASSERT_EQ(held.size(), 1u);
    EXPECT_EQ(held[0].valve, std::optional<std::string>("1I"));
    EXPECT_EQ(held[0].head, "7");
    EXPECT_EQ(word_of(held[0].code), "no-cutter");
    EXPECT_NE(spoken(held[0].reason).find("1.700 mm wide"), std::string::npos);
    EXPECT_NE(spoken(held[0].frees).find("allow what = \"width intake\""), std::string::npos);
}

}  // namespace
}  // namespace seatwright::shape
