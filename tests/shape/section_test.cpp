// The section against its closed forms, and the width's answer to depth against figures of the trade.
#include "seatwright/shape/section.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "job_fixtures.hpp"

namespace seatwright::shape {
namespace {

job::SeatForm form_of(double angle, std::vector<job::Facet> top, std::vector<job::Facet> throat) {
    job::SeatForm form;
    form.angle = rad(angle);
    form.width = 1.5;
    form.inset = 0.5;
    form.top = std::move(top);
    form.throat = std::move(throat);
    return form;
}

TEST(Section, FollowsTheClosedFormsFacetByFacet) {
    const job::ValveForm valve{44.5, rad(45), 8.7, 1.5};
    const auto form = form_of(45, {{rad(30), 1.0}, {rad(15), 0.8}}, {{rad(60), 1.2}, {rad(75), 0.6}});
    const Section s = section_of(valve, form);
    EXPECT_DOUBLE_EQ(s.contact_od, 43.5);
    EXPECT_NEAR(s.contact_id, 43.5 - 3.0 * std::sqrt(0.5), 1e-12);
    EXPECT_NEAR(s.gauge, (s.contact_od + s.contact_id) / 2, 1e-12);
    ASSERT_EQ(s.points.size(), 6u);
    EXPECT_EQ(s.face, 2u);
    // The gauge circle is the middle of the face, at z = 0.
    EXPECT_NEAR((s.points[2] + s.points[3]).y(), 0, 1e-12);
    EXPECT_NEAR((s.points[2] + s.points[3]).x(), s.gauge, 1e-12);
    EXPECT_NEAR(s.points[3].x(), s.contact_od / 2, 1e-12);
    const double dz[] = {0.6 * std::sin(rad(75)), 1.2 * std::sin(rad(60)), 1.5 * std::sin(rad(45)),
                         1.0 * std::sin(rad(30)), 0.8 * std::sin(rad(15))};
    const double dr[] = {0.6 * std::cos(rad(75)), 1.2 * std::cos(rad(60)), 1.5 * std::cos(rad(45)),
                         1.0 * std::cos(rad(30)), 0.8 * std::cos(rad(15))};
    for (std::size_t i = 0; i < 5; ++i) {
        EXPECT_NEAR(s.points[i + 1].x() - s.points[i].x(), dr[i], 1e-12) << i;
        EXPECT_NEAR(s.points[i + 1].y() - s.points[i].y(), dz[i], 1e-12) << i;
    }
}

TEST(Section, TakesTheContactDiameterWhereItIsGiven) {
    auto form = form_of(30, {}, {});
    form.inset.reset();
    form.contact_diameter = 41.0;
    const Section s = section_of(job::ValveForm{44.5, rad(30), 8.7, 1.5}, form);
    EXPECT_DOUBLE_EQ(s.contact_od, 41.0);
    EXPECT_EQ(s.points.size(), 2u);
}

// Common practice (interference angle): a flatter valve face meets the seat at the combustion side.
TEST(Section, SaysWhereContactStarts) {
    const auto form = form_of(45, {}, {});
    EXPECT_EQ(section_of({44.5, rad(44), {}, {}}, form).contact, ContactStart::outer_edge);
    EXPECT_EQ(section_of({44.5, rad(46), {}, {}}, form).contact, ContactStart::inner_edge);
    EXPECT_EQ(section_of({44.5, rad(45), {}, {}}, form).contact, ContactStart::whole_face);
    EXPECT_EQ(section_of({44.5, {}, {}, {}}, form).contact, ContactStart::whole_face);
}

// Width per depth of seat geometry, two decimals, as the trade's tables give it (derived).
TEST(Section, SensitivitiesAgreeWithTheTradesTable) {
    struct Row {
        double face, facet;
        bool top;
        double rate;
    };
    int checked = 0;
    for (const Row& row : {Row{45, 30, true, 3.35}, Row{45, 15, true, 1.93}, Row{45, 60, false, 1.93},
                           Row{45, 70, false, 0.81}, Row{30, 15, true, 3.73}, Row{30, 60, false, 1.0}}) {
        const job::Facet facet{rad(row.facet), 1};
        const auto form = row.top ? form_of(row.face, {facet}, {}) : form_of(row.face, {}, {facet});
        const auto s = sensitivities(job::Kind::intake, form);
        ASSERT_EQ(s.size(), 1u);
        EXPECT_NEAR(s[0].width_per_depth, row.rate, 0.005) << row.face << "/" << row.facet;
        ++checked;
    }
    EXPECT_EQ(checked, 6);
}

// The rate is a derivative: sink one facet's line by d, meet it with the face again, measure the face.
TEST(Section, SensitivityIsTheChangeOfTheMeetingPoint) {
    for (const double beta : {5.0, 15.0, 30.0, 40.0}) {
        const double d = 0.01, a = std::tan(rad(45)), b = std::tan(rad(beta));
        // Face z = a·r, facet z = b·r − d through the old corner at r = 0: they now meet at r = −d/(a − b).
        const double along_face = d / (a - b) / std::cos(rad(45));
        const auto s = sensitivities(job::Kind::intake, form_of(45, {{rad(beta), 1}}, {}));
        EXPECT_NEAR(s.at(0).width_per_depth * d, along_face, 1e-12);
    }
}

}  // namespace
}  // namespace seatwright::shape
