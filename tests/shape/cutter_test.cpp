// The choice of a cutter, and what is said of those that do not fit.
#include "seatwright/shape/cutter.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "job_fixtures.hpp"

namespace seatwright::shape {
namespace {

job::Cutter three_face(const char* name, double throat, double face, double top, double face_deg = 45) {
    return {name, {{rad(60), throat}, {rad(face_deg), face}, {rad(30), top}}, {30, 50}, 1};
}

TEST(Cutter, LeastDeviationOfTheFaceThenOfTheRest) {
    auto job = fixtures::wedge_job();
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
                   three_face("short top", 1.6, 1.8, 0.7)};
    job.cutters[1].gauge_diameter = {20, 30};
    const auto misses = near_misses(job, job::Kind::intake);
    ASSERT_EQ(misses.size(), 3u);
    const auto of = [&](std::size_t cutter) {
        for (const auto& m : misses)
            if (m.cutter == cutter) return m.why;
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

}  // namespace
}  // namespace seatwright::shape
