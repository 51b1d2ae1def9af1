// Heights of old seats: every worked figure of the readings and of the cutter's rest, then which reading
// serves and which is lacking. The figures were worked by a second, points-only program.
#include "seatwright/shape/heights.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "job_fixtures.hpp"
#include "seatwright/shape/before.hpp"
#include "seatwright/shape/cutter.hpp"
#include "seatwright/shape/heights_agree.hpp"
#include "seatwright/shape/rest.hpp"
#include "seatwright/shape/section.hpp"
#include "seatwright/shape/worn.hpp"
#include "seatwright/shape/zero.hpp"
#include "spoken.hpp"

namespace seatwright::shape {
namespace {

constexpr double figure = 5e-5;  // figures are given to 1e-4

// 30-45-60, face 1.5 wide: half face 0.5303 in radius; throat 2.0.
job::SeatForm form_30_45_60() {
    job::SeatForm form;
    form.angle = rad(45);
    form.width = 1.5;
    form.inset = 0.5;
    form.top = {{rad(30), 1.2}};
    form.throat = {{rad(60), 2.0}};
    return form;
}
Section section() {
    return section_of(job::ValveForm{52, rad(45), 7.97, 1.6}, form_30_45_60());
}

// An old face through the gauge circle, so far in radius inside and outside of it, at that angle.
std::vector<Vec2> old_face(double inside, double outside, double angle_deg) {
    const double r = section().gauge / 2, t = std::tan(rad(angle_deg));
    return {Vec2(r - inside, -inside * t), Vec2(r + outside, outside * t)};
}

TEST(Rest, WiderFacesByCalliper) {
    const Section s = section();
    const double along = 0.7, in_radius = along * std::cos(rad(45));
    EXPECT_NEAR(rest_on_face(s, s.contact_od + 2 * in_radius, 1.5 + along), 0.2092, figure);
    EXPECT_NEAR(rest_on_face(s, s.contact_od, 1.5 + along), 0.3623, figure);
    EXPECT_NEAR(rest_on_face(s, s.contact_od + in_radius, 1.5 + along), 0.1812, figure);
    EXPECT_NEAR(rest_on_face(s, s.contact_od + in_radius, 1.5 + along / 2), 0.1046, figure);
    EXPECT_EQ(rest_on_face(s, s.contact_od - 0.2, 1.2), 0);
}

// The blade that cuts is 0.2 wider on its face than the drawing asks, within its tolerance: on an old face as
// wide as its own it lies, where the form as drawn would stand on both its edges.
TEST(Rest, TheBladeChosenComesToRestNotTheDrawing) {
    job::Job job = fixtures::wedge_job();
    const job::SeatForm& form = *job.seat.intake;
    const CutterChoice choice = choose_cutter(job, job::Kind::intake);
    ASSERT_TRUE(choice.cutter);
    ASSERT_NEAR(choice.cut_width - form.width, 0.2, 1e-9);
    job::SeatBefore read;
    read.valve = "1I";
    read.recession = 0.2;
    read.cleanup = 0.1;
    read.face_outside = choice.cut_contact_od;
    read.face_width = choice.cut_width;
    job.readings.seats = {read};
    const auto rest_of_1i = [&] {
        return *before_cutting(job, hold::plan(job), "1").rest[*job.head.index_of("1I")];
    };
    EXPECT_NEAR(rest_of_1i(), 0, 1e-9);
    // 0.05 further in than the blade's own: Δi·(tan 60 − tan 45); of the drawing it would be 0.0207 more.
    read.face_width = choice.cut_width + 0.05 / std::cos(rad(45));
    job.readings.seats = {read};
    EXPECT_NEAR(rest_of_1i(), 0.05 * (std::tan(rad(60)) - 1), 1e-9);
    // By a section the same.
    const double outside = choice.cut_contact_od / 2;
    read.section = {Vec2(outside - *read.face_width * std::cos(rad(45)), 0), Vec2(outside, 0)};
    const double gauge = choice.blade_setting / 2;
    for (Vec2& p : read.section) p.y() = p.x() - gauge;
    job.readings.seats = {read};
    EXPECT_NEAR(rest_of_1i(), 0.05 * (std::tan(rad(60)) - 1), 1e-9);
}

TEST(Rest, WiderFacesByTheirSection) {
    const double half = 1.5 * std::cos(rad(45)) / 2, more = 0.7 * std::cos(rad(45));
    EXPECT_NEAR(half, 0.5303, figure);
    EXPECT_NEAR(*highest_gap(section(), old_face(half, half + more, 45)), 0.2092, figure);
    EXPECT_NEAR(*highest_gap(section(), old_face(half + more, half, 45)), 0.3623, figure);
    EXPECT_NEAR(*highest_gap(section(), old_face(half + more / 2, half + more / 2, 45)), 0.1812, figure);
}

TEST(Rest, FacesOfAnotherAngle) {
    const double half = 1.5 * std::cos(rad(45)) / 2;
    EXPECT_NEAR(*highest_gap(section(), old_face(half, half, 46)), 0.0188, figure);
    EXPECT_NEAR(*highest_gap(section(), old_face(half, half, 44)), 0.0182, figure);
    EXPECT_NEAR(*highest_gap(section(), old_face(half, half, 30)), 0.2241, figure);
}

TEST(Rest, OffTheAxisAndTheLowestEdge) {
    const double half = 1.5 * std::cos(rad(45)) / 2;
    for (const double off : {-0.05, 0.05}) {
        auto face = old_face(half, half, 45);
        for (Vec2& p : face) p.x() += off;
        std::vector<Vec2> over_face;
        for (const Vec2& p : section().points)
            if (std::abs(p.y()) <= half + 1e-9) over_face.push_back(p);
        Section face_alone = section();
        face_alone.points = over_face;
        EXPECT_NEAR(*highest_gap(face_alone, face), -off, figure);
    }
    EXPECT_NEAR(lowest_of(section()), 2.2624, figure);
}

// The demonstration's measured section of one intake.
const std::vector<Vec2> measured{{23.570, -2.067}, {23.970, -1.374}, {24.439, -0.562}, {24.620, -0.393},
                                 {24.770, -0.274}, {24.920, -0.173}, {25.070, -0.050}, {25.220, 0.127},
                                 {25.370, 0.326},  {25.500, 0.485},  {25.770, 0.656},  {26.170, 0.887}};

TEST(Rest, OfAMeasuredSectionIsSigned) {
    EXPECT_NEAR(*highest_gap(section(), measured), -0.0302, figure);
    EXPECT_NEAR(cleanup_of(section(), measured)->depth, 0.1503, figure);
    EXPECT_FALSE(section_off(section(), measured));
    auto lower = measured;
    for (Vec2& p : lower) p.y() -= 0.3;
    EXPECT_TRUE(section_off(section(), lower));
}

TEST(Rest, ANewRingIsItsTwoCorners) {
    const std::vector<Vec2> corners{Vec2(23.5, 1.5), Vec2(28, 1.5)};
    EXPECT_TRUE(is_new_ring(corners));
    EXPECT_FALSE(section_off(section(), corners));
    // The inner corner meets the throat facet first: the form is lowest there.
    const Section s = section();
    const double z_new = s.points[1].y() - (s.points[1].x() - 23.5) * std::tan(rad(60));
    EXPECT_NEAR(*highest_gap(s, corners), 1.5 - z_new, 1e-9);
}

TEST(Heights, ReadingsToRecession) {
    // Head face 2.40 over the gauge plane at z −3.40: 1.00 below the deck by the drawing; parallel guides.
    EXPECT_NEAR(recession_of_below_deck(1.35, 0, 1.00, 1), 0.35, 1e-12);
    // The same read after 0.20 came off the deck.
    EXPECT_NEAR(recession_of_below_deck(1.15, 0.20, 1.00, 1), 0.35, 1e-12);
    // 0.25 along an axis 22.3 deg off the deck's normal: 0.2313 at the head's middle, 0.2702 at a fixed
    // place.
    const double up = 0.925241;
    EXPECT_NEAR(recession_of_below_deck(1 + 0.2313, 0, 1, up), 0.25, figure);
    EXPECT_NEAR(0.25 * up, 0.2313, figure);
    EXPECT_NEAR(0.25 / up, 0.2702, figure);
    EXPECT_NEAR(1 / (up * up), 1.1681, figure);
    EXPECT_NEAR(1 / std::pow(std::cos(rad(5)), 2), 1.0077, figure);
    EXPECT_NEAR(1 / std::pow(std::cos(rad(2)), 2), 1.0012, figure);
    EXPECT_NEAR(0.10 / up, 0.1081, figure);
}

// Four valves in a row, guides square to the deck; one setup.
struct Row {
    job::Job job = fixtures::wedge_job(4, 100, 0);
    hold::Hold hold;
    std::vector<Before> read;
    std::vector<std::optional<double>> rest;

    Row() {
        for (const auto kind : job::both_kinds) job.seat[kind]->old_as_drawn = false;
        hold::Setup setup;
        setup.id = "A";
        for (std::size_t v = 0; v < job.head.valves.size(); ++v) {
            hold::Held held;
            held.valve = v;
            held.map = job.head.valves[v].seat - job.head.valves[0].seat;
            setup.valves.push_back(held);
        }
        hold.setups.push_back(setup);
        read.resize(job.head.valves.size());
        rest.resize(read.size());
    }
    std::size_t at(const char* id) const { return *job.head.index_of(id); }
    Before& of(const char* id) { return read[at(id)]; }
    Heights heights() const { return heights_of(job, hold, read, rest); }
};

TEST(Heights, TheFirstReadingThatServes) {
    Row row;
    row.job.seat.intake->below_deck = 1.0;
    row.job.seat.intake->stem_height = 47.5;
    row.job.depth.zero_on = "1I";
    row.of("1I").recession = 0.1;
    row.of("2I").below_deck = 1.35;
    row.of("2I").stem_height = 47.9;
    row.of("2I").stem_by_setting_valve = true;
    row.of("3I").stem_height = 47.72;
    row.of("3I").stem_by_setting_valve = true;
    row.of("4I").stem_height = 47.72;  // by its own valve: no height of the seat
    const Heights h = row.heights();
    EXPECT_EQ(h.seats[row.at("1I")].from, HeightFrom::recession);
    EXPECT_EQ(h.seats[row.at("2I")].from, HeightFrom::below_deck);
    EXPECT_NEAR(*h.seats[row.at("2I")].recession, 0.35, 1e-12);
    EXPECT_NEAR(*h.seats[row.at("3I")].recession, 0.22, 1e-12);
    EXPECT_FALSE(h.seats[row.at("4I")].recession);
    EXPECT_NE(spoken(h.lacking[row.at("4I")]).find("recession of 4I"), std::string::npos);
    for (const char* id : {"1I", "2I", "3I"}) EXPECT_TRUE(h.lacking[row.at(id)].empty()) << id;
    EXPECT_EQ(h.seats[row.at("3I")].touched, row.at("1I"));
}

TEST(Heights, RestOfACutterCountsFromTheTouchedSeat) {
    Row row;
    row.job.depth.zero_on = "2I";
    row.of("2I").recession = 0.25;
    row.of("3I").rest_z = -0.02 + 0.15;
    row.of("3I").recession = 9;  // the later reading of the two kinds does not count
    row.rest[row.at("2I")] = 0.1812;
    row.rest[row.at("3I")] = 0.15;
    row.job.depth.feeler = 0.05;
    const Heights h = row.heights();
    const double zeta =
        zeta_of(OldSeatTouch{row.hold.setups[0].valves[row.at("2I")].map.z(), 0.25, 0.1812, 0.05, rad(45)});
    const double m = row.hold.setups[0].valves[row.at("3I")].map.z();
    EXPECT_EQ(h.seats[row.at("3I")].from, HeightFrom::rest_z);
    EXPECT_NEAR(-*h.seats[row.at("3I")].recession, 0.13 - m + zeta - 0.15, 1e-12);
    // Nobody read the touched seat: differences alone, and they are all a touch needs.
    row.of("2I").recession.reset();
    const Heights bare = row.heights();
    EXPECT_TRUE(bare.seats[row.at("3I")].relative);
    EXPECT_EQ(bare.seats[row.at("2I")].from, HeightFrom::touched);
    EXPECT_TRUE(bare.lacking[row.at("3I")].empty());
    EXPECT_NEAR(*bare.seats[row.at("3I")].recession, *h.seats[row.at("3I")].recession - 0.25, 1e-12);
}

TEST(Heights, WithoutADrawingValueDifferencesOnly) {
    Row row;
    row.job.seat.intake->stem_height.reset();
    row.job.depth.zero_on = "2I";
    for (const char* id : {"1I", "2I"}) row.of(id).stem_by_setting_valve = true;
    row.of("1I").stem_height = 50.30;
    row.of("2I").stem_height = 50.10;
    const Heights h = row.heights();
    EXPECT_NEAR(*h.seats[row.at("1I")].recession, 0.20, 1e-12);
    EXPECT_TRUE(h.seats[row.at("1I")].relative);
    EXPECT_TRUE(h.lacking[row.at("1I")].empty());
    EXPECT_NE(spoken(h.lacking[row.at("3I")]).find("rest_z of 3I"), std::string::npos);
    // From the deck no difference helps.
    row.job.depth.from = job::DepthFrom::deck;
    EXPECT_FALSE(row.heights().lacking[row.at("1I")].empty());
}

TEST(Heights, ASteepGuideIsNotReadSquareToTheDeck) {
    Row row;
    for (auto& v : row.job.head.valves) v.incline = rad(6);
    row.job.seat.intake->below_deck = 1.0;
    row.of("1I").below_deck = 1.35;
    const Heights h = row.heights();
    EXPECT_NE(h.seats[row.at("1I")].from, HeightFrom::below_deck);
    ASSERT_EQ(h.notices.warnings.size(), 1u);
    EXPECT_EQ(h.notices.warnings[0].code, "below-deck-steep");
    for (auto& v : row.job.head.valves) v.incline = rad(4.9);
    EXPECT_EQ(row.heights().seats[row.at("1I")].from, HeightFrom::below_deck);
}

TEST(Heights, TheTouchedSeatIsInTheMiddleOfThoseRead) {
    Row row;
    EXPECT_EQ(row.heights().seats[row.at("4I")].touched, row.at("2I"));
    row.of("3I").recession = 0.1;
    row.of("1I").recession = 0.1;
    const Heights h = row.heights();
    EXPECT_EQ(h.seats[row.at("4I")].touched, row.at("3I"));
    EXPECT_EQ(h.seats[row.at("4E")].touched, row.at("2E"));  // each form its own
    row.job.depth.zero_on = "4I";
    EXPECT_EQ(row.heights().seats[row.at("1I")].touched, row.at("4I"));
    // 1I is read, the seat it is compared with is not.
    EXPECT_NE(spoken(row.heights().lacking[row.at("1I")]).find("recession of 4I"), std::string::npos);
}

TEST(Heights, TwoReadingsAreComparedByTheirDifferences) {
    Row row;
    for (const char* id : {"1I", "2I", "3I", "4I"}) {
        row.of(id).recession = 0.2;
        row.of(id).stem_height = 49.0;  // 1.3 off the drawing: no matter
        row.of(id).stem_by_setting_valve = true;
    }
    EXPECT_TRUE(heights_that_differ(row.job, row.read).empty());
    row.of("3I").recession = 0.27;  // 0.0525 from the mean: within 2·√(0.02² + 0.02²) = 0.0566
    EXPECT_TRUE(heights_that_differ(row.job, row.read).empty());
    row.of("3I").recession = 0.28;  // 0.06
    const auto notes = heights_that_differ(row.job, row.read);
    ASSERT_EQ(notes.size(), 1u);
    EXPECT_EQ(notes[0].valve, "3I");
    row.of("3I").stem_by_setting_valve = false;  // another valve: nothing to compare
    EXPECT_TRUE(heights_that_differ(row.job, row.read).empty());
}

// The table of the two plans: what each needs of each seat.
TEST(Heights, WhatEachPlanNeeds) {
    Row row;
    row.job.depth.zero_on = "1I";
    const auto lacks = [&](job::DepthTo to, job::DepthFrom from, const char* id) {
        row.job.depth.to = to;
        row.job.depth.from = from;
        return !row.heights().lacking[row.at(id)].empty();
    };
    using job::DepthFrom;
    using job::DepthTo;
    EXPECT_FALSE(lacks(DepthTo::height, DepthFrom::deck, "3I"));
    EXPECT_FALSE(lacks(DepthTo::height, DepthFrom::finished, "3I"));
    EXPECT_TRUE(lacks(DepthTo::height, DepthFrom::touch, "3I"));
    EXPECT_FALSE(lacks(DepthTo::cleanup, DepthFrom::touch, "1I"));
    EXPECT_TRUE(lacks(DepthTo::cleanup, DepthFrom::touch, "3I"));
    EXPECT_TRUE(lacks(DepthTo::cleanup, DepthFrom::finished, "3I"));
    EXPECT_TRUE(lacks(DepthTo::cleanup, DepthFrom::deck, "1I"));
    row.of("1I").recession = 0.2;
    EXPECT_FALSE(lacks(DepthTo::height, DepthFrom::touch, "3I"));
    EXPECT_FALSE(lacks(DepthTo::cleanup, DepthFrom::deck, "1I"));
    row.job.seat.intake->old_as_drawn = true;
    for (const auto from : {DepthFrom::touch, DepthFrom::finished, DepthFrom::deck})
        EXPECT_FALSE(lacks(DepthTo::cleanup, from, "3I"));
}

}  // namespace
}  // namespace seatwright::shape
