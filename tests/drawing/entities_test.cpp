// Every entity a hole can be drawn with, one by one, written out by hand after the published description of
// the format; where it stands worked out here.
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "seatwright/base/units.hpp"
#include "seatwright/drawing/plan_view.hpp"
#include "seatwright/drawing/sheet.hpp"

namespace seatwright::drawing {
namespace {

std::string group(int code, const std::string& value) {
    return std::to_string(code) + "\n" + value + "\n";
}
std::string group(int code, double value) {
    char text[40];
    std::snprintf(text, sizeof text, "%.15g", value);
    return group(code, std::string(text));
}
std::string at(double x, double y, double z = 0) {
    return group(10, x) + group(20, y) + group(30, z);
}
std::string circle(double x, double y, double r, const std::string& more = "") {
    return group(0, "CIRCLE") + group(8, "0") + at(x, y) + group(40, r) + more;
}
std::string section(const std::string& name, const std::string& body) {
    return group(0, "SECTION") + group(2, name) + body + group(0, "ENDSEC");
}
std::string drawn(const std::string& entities, const std::string& before = "") {
    return before + section("ENTITIES", entities) + group(0, "EOF");
}

Checked<View> seen(const std::string& text, double mm = 1) {
    const auto sheet = read_sheet(text, "deck.dxf");
    if (!sheet) return tl::unexpected(sheet.error());
    return view_of(*sheet, mm, "deck.dxf");
}

void expect_ring(const Ring& ring, double x, double y, double a, double b) {
    EXPECT_NEAR(ring.centre.x(), x, 1e-12);
    EXPECT_NEAR(ring.centre.y(), y, 1e-12);
    EXPECT_NEAR(ring.a, a, 1e-12);
    EXPECT_NEAR(ring.b, b, 1e-12);
}

TEST(Entities, ACircle) {
    const auto view = seen(drawn(circle(12.5, -3.25, 4)));
    ASSERT_TRUE(view);
    ASSERT_EQ(view->rings.size(), 1u);
    expect_ring(view->rings[0], 12.5, -3.25, 4, 4);
    const auto inches = seen(drawn(circle(1, 2, 0.25)), mm_per_inch);
    ASSERT_TRUE(inches);
    expect_ring(inches->rings[0], 25.4, 50.8, 6.35, 6.35);
}

TEST(Entities, ACircleInAPlaneTurnedOver) {
    // 230 = −1: its own X runs the other way, Y as it was.
    const auto view = seen(drawn(circle(12.5, -3.25, 4, group(230, -1.0))));
    ASSERT_TRUE(view);
    expect_ring(view->rings[0], -12.5, -3.25, 4, 4);
}

TEST(Entities, ACircleThatLeansInSpaceIsSeenAsAnEllipse) {
    // A normal of 20 deg from Z towards +Y: narrower by cos 20 deg along Y.
    const double lean = rad(20);
    const auto view = seen(
        drawn(circle(0, 0, 10, group(210, 0.0) + group(220, std::sin(lean)) + group(230, std::cos(lean)))));
    ASSERT_TRUE(view);
    const auto& ring = view->rings.at(0);
    EXPECT_NEAR(ring.a, 10, 1e-12);
    EXPECT_NEAR(ring.b, 10 * std::cos(lean), 1e-12);
    EXPECT_NEAR(std::abs(ring.along.x()), 1, 1e-12);
    EXPECT_TRUE(ring.round_in_space);
    EXPECT_NEAR(ring.normal.y(), std::sin(lean), 1e-12);
}

TEST(Entities, ArcsThatGoAllTheWayRound) {
    const auto arc = [](double from, double to, double r = 5) {
        return group(0, "ARC") + group(8, "0") + at(3, 4) + group(40, r) + group(50, from) + group(51, to);
    };
    const auto whole = seen(drawn(arc(350, 100) + arc(100, 230) + arc(230, 350)));
    ASSERT_TRUE(whole);
    ASSERT_EQ(whole->rings.size(), 1u);
    expect_ring(whole->rings[0], 3, 4, 5, 5);
    EXPECT_TRUE(seen(drawn(arc(350, 100) + arc(100, 229)))->rings.empty()) << "a piece is missing";
    EXPECT_TRUE(seen(drawn(arc(0, 180) + arc(180, 360, 5.1)))->rings.empty()) << "of two sizes";
    EXPECT_EQ(seen(drawn(arc(0, 360)))->rings.size(), 1u) << "one arc, all of a turn";
    // However the angles are counted, and as soon as ever: a step of a turn at a time never came to such ends
    // (found by fuzzing).
    EXPECT_EQ(seen(drawn(arc(720, -360)))->rings.size(), 1u);
    EXPECT_TRUE(seen(drawn(arc(1e12, 0)))->rings.empty());
    EXPECT_TRUE(seen(drawn(arc(1e300, -1e300)))->rings.empty());
    // One half in a plane turned over: its angles run the other way, from its own X.
    const auto over = seen(drawn(arc(0, 180) + group(0, "ARC") + group(8, "0") + at(-3, 4) + group(40, 5.0) +
                                 group(50, 180.0) + group(51, 360.0) + group(230, -1.0)));
    ASSERT_EQ(over->rings.size(), 1u);
    expect_ring(over->rings[0], 3, 4, 5, 5);
}

TEST(Entities, PolylinesOfBulges) {
    const auto vertex = [](double x, double y, double bulge) {
        return group(10, x) + group(20, y) + group(42, bulge);
    };
    const std::string light = group(0, "LWPOLYLINE") + group(8, "0") + group(90, "2") + group(70, "1") +
                              vertex(-5, 2, 1) + vertex(7, 2, 1);
    expect_ring(seen(drawn(light))->rings.at(0), 1, 2, 6, 6);
    const std::string clockwise =
        group(0, "LWPOLYLINE") + group(8, "0") + group(70, "1") + vertex(-5, 2, -1) + vertex(7, 2, -1);
    expect_ring(seen(drawn(clockwise))->rings.at(0), 1, 2, 6, 6);
    // Four quarters: tan(90°/4).
    const double quarter = std::tan(rad(22.5));
    const std::string four = group(0, "LWPOLYLINE") + group(8, "0") + group(70, "1") + vertex(6, 0, quarter) +
                             vertex(0, 6, quarter) + vertex(-6, 0, quarter) + vertex(0, -6, quarter);
    const auto ring = seen(drawn(four))->rings.at(0);
    EXPECT_NEAR(ring.a, 6, 1e-12);
    EXPECT_NEAR(ring.centre.norm(), 0, 1e-12);
    const std::string open =
        group(0, "LWPOLYLINE") + group(8, "0") + group(70, "0") + vertex(-5, 2, 1) + vertex(7, 2, 1);
    EXPECT_TRUE(seen(drawn(open))->rings.empty()) << "half a turn";
    const std::string slot = group(0, "LWPOLYLINE") + group(8, "0") + group(70, "1") + vertex(-5, 2, 1) +
                             vertex(7, 2, 0) + vertex(9, 2, 1) + vertex(12, 2, 0);
    EXPECT_TRUE(seen(drawn(slot))->rings.empty()) << "a slot is no hole";
    const auto old = [&](double bulge) {
        return group(0, "VERTEX") + group(8, "0") + at(bulge > 0 ? -5 : 7, 2) + group(42, 1.0);
    };
    const std::string heavy = group(0, "POLYLINE") + group(8, "0") + group(66, "1") + group(70, "1") +
                              old(1) + old(-1) + group(0, "SEQEND");
    expect_ring(seen(drawn(heavy + circle(50, 50, 1)))->rings.at(1), 1, 2, 6, 6);
}

TEST(Entities, AnEllipse) {
    const std::string half = group(0, "ELLIPSE") + group(8, "0") + at(5, 6) + group(11, 3.0) +
                             group(21, 4.0) + group(31, 0.0) + group(40, 0.8);
    const auto ring = seen(drawn(half + group(41, 0.0) + group(42, 2 * pi)))->rings.at(0);
    expect_ring(ring, 5, 6, 5, 4);
    EXPECT_NEAR(ring.along.x(), 0.6, 1e-12);
    EXPECT_NEAR(ring.along.y(), 0.8, 1e-12);
    EXPECT_TRUE(seen(drawn(half + group(41, 0.0) + group(42, 3.0)))->rings.empty());
    EXPECT_EQ(seen(drawn(half + group(41, 0.0) + group(42, 3.0) + half + group(41, 3.0) + group(42, 2 * pi)))
                  ->rings.size(),
              1u);
}

std::string block(const std::string& name, const std::string& body, double x = 0, double y = 0,
                  int flags = 0) {
    return group(0, "BLOCK") + group(8, "0") + group(2, name) + group(70, std::to_string(flags)) + at(x, y) +
           body + group(0, "ENDBLK");
}
std::string insert(const std::string& name, double x, double y, const std::string& more = "",
                   const std::string& layer = "0") {
    return group(0, "INSERT") + group(8, layer) + group(2, name) + at(x, y) + more;
}

TEST(Entities, InsertsScaledTurnedAndOneInAnother) {
    // Two to one about its base, a quarter turned, within a block that is itself mirrored.
    const std::string blocks =
        section("BLOCKS",
                block("HOLE", circle(3, 1, 2), 1, 1) +
                    block("OUTER", insert("HOLE", 10, 0, group(41, 2.0) + group(42, 2.0) + group(50, 90.0))));
    // Of HOLE: (3,1) − (1,1) = (2,0), twice (4,0), turned (0,4), at (10,4); mirrored (−10,4), at (90,4).
    const auto view = seen(drawn(insert("OUTER", 100, 0, group(41, -1.0)), blocks));
    ASSERT_TRUE(view);
    expect_ring(view->rings.at(0), 90, 4, 4, 4);
    // Stretched: an ellipse.
    const auto stretched = seen(drawn(insert("HOLE", 0, 0, group(41, 1.0) + group(42, 0.5)), blocks));
    expect_ring(stretched->rings.at(0), 2, 0, 2, 1);
    // In columns and rows, turned as a whole.
    const auto many = seen(
        drawn(insert("HOLE", 0, 0,
                     group(50, 90.0) + group(70, "3") + group(71, "2") + group(44, 10.0) + group(45, 20.0)),
              blocks));
    ASSERT_EQ(many->rings.size(), 6u);
    expect_ring(many->rings[0], 0, 2, 2, 2);
    expect_ring(many->rings[1], 0, 12, 2, 2);
    expect_ring(many->rings[3], -20, 2, 2, 2);
    EXPECT_EQ(seen(drawn(insert("ELSEWHERE", 0, 0), blocks))->elsewhere, 1u);
    EXPECT_EQ(
        seen(drawn(insert("X", 0, 0), section("BLOCKS", block("X", circle(0, 0, 1), 0, 0, 4))))->elsewhere,
        1u);
}

TEST(Entities, WhatDoesNotShowIsLeftOut) {
    const auto layer = [](const std::string& name, int flags, int colour) {
        return group(0, "LAYER") + group(2, name) + group(70, std::to_string(flags)) +
               group(62, std::to_string(colour));
    };
    const std::string tables =
        section("TABLES", group(0, "TABLE") + group(2, "LAYER") + layer("FROZEN", 1, 7) +
                              layer("OFF", 0, -7) + layer("LOCKED", 4, 7) + group(0, "ENDTAB"));
    const auto on = [](const std::string& name) {
        return group(0, "CIRCLE") + group(8, name) + at(0, 0) + group(40, 3.0);
    };
    EXPECT_EQ(seen(drawn(on("FROZEN") + on("OFF") + on("LOCKED") + on("NONE"), tables))->rings.size(), 2u);
    EXPECT_EQ(seen(drawn(on("FROZEN") + on("OFF"), tables))->hidden, 2u);
    // Paper space, and what is set invisible of itself.
    const auto none = seen(drawn(on("LOCKED") + group(67, "1") + on("LOCKED") + group(60, "1"), tables));
    EXPECT_TRUE(none->rings.empty());
    // A block's layer 0 is its insert's layer; what has a layer of its own goes by that, unless the insert's
    // is frozen.
    const std::string blocks = section("BLOCKS", block("B", on("0") + on("LOCKED")));
    EXPECT_EQ(seen(drawn(insert("B", 0, 0, "", "OFF"), tables + blocks))->rings.size(), 1u);
    EXPECT_EQ(seen(drawn(insert("B", 0, 0, "", "FROZEN"), tables + blocks))->rings.size(), 0u);
    const std::string paper = section("BLOCKS", block("*Paper_Space0", on("LOCKED")));
    EXPECT_EQ(read_sheet(drawn("", paper), "x")->in_paper, 1u);
}

TEST(Entities, NamesAndUnits) {
    const auto sheet = read_sheet(section("HEADER", group(9, "$INSUNITS") + group(70, "5") +
                                                        group(9, "$MEASUREMENT") + group(70, "1")) +
                                      drawn(group(0, "CIRCLE") + group(8, "S\\U+00E9at \xe9") + at(0, 0) +
                                            group(40, 1.0) + group(0, "LINE") + group(10, 0.125)),
                                  "x");
    ASSERT_TRUE(sheet);
    EXPECT_EQ(sheet->unit, 5);
    EXPECT_EQ(mm_of_unit(5), 10);
    EXPECT_EQ(mm_of_unit(1), 25.4);
    EXPECT_EQ(mm_of_unit(3), 0);
    EXPECT_EQ(sheet->metric, true);
    EXPECT_EQ(sheet->model.curves.at(0).layer,
              "S\xc3\xa9"
              "at \xc3\xa9");
    EXPECT_EQ(sheet->not_read.at("LINE"), 1u);
    EXPECT_DOUBLE_EQ(sheet->finest, 0.001);
}

}  // namespace
}  // namespace seatwright::drawing
