// What circles are taken for: heads of several kinds as circles, and what is said where a drawing could mean
// two things.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "seatwright/drawing/drawing.hpp"
#include "seatwright/drawing/job_text.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::drawing {
namespace {

struct Deck {
    std::string body;
    void circle(double x, double y, double d, const std::string& layer = "0") {
        char text[200];
        std::snprintf(text, sizeof text, "0\nCIRCLE\n8\n%s\n10\n%.15g\n20\n%.15g\n40\n%.15g\n", layer.c_str(),
                      x, y, d / 2);
        body += text;
    }
    void valve(double x, double y, double seat, double bore = 7, const std::string& layer = "0") {
        circle(x, y, seat, layer);
        circle(x, y, bore, layer);
    }
    // Two rows of bolts half a spacing beyond the bores.
    void bolts(int cylinders, double spacing, double y, double d) {
        for (const double side : {-1.0, 1.0})
            for (int k = 0; k <= cylinders; ++k) circle((k - 0.5) * spacing, side * y, d);
    }
    Checked<Drawing> taken(Told told = {}) const {
        if (!told.units) told.units = LengthUnit::mm;
        return drawing_of("0\nSECTION\n2\nENTITIES\n" + body + "0\nENDSEC\n0\nEOF\n", "deck.dxf", told);
    }
};

std::size_t count(const Drawing& d, survey::HoleKind kind) {
    return static_cast<std::size_t>(
        std::count_if(d.holes.begin(), d.holes.end(), [&](const Hole& h) { return h.kind == kind; }));
}

bool said(const Drawing& d, const std::string& code) {
    return std::any_of(d.warnings.begin(), d.warnings.end(),
                       [&](const Warning& w) { return w.code == code; });
}

TEST(Heads, FourValvesWithoutBores) {
    // No bores drawn: the valves alone say how many cylinders there are.
    Deck deck;
    for (int k = 0; k < 4; ++k)
        for (const double dx : {-18.0, 18.0}) {
            deck.valve(90 * k + dx, 17, 33);
            deck.valve(90 * k + dx, -17, 28);
        }
    deck.bolts(4, 90, 48, 11);
    const auto d = deck.taken();
    ASSERT_TRUE(d) << to_line(d.error()[0]);
    EXPECT_EQ(d->cylinders, 4);
    ASSERT_EQ(d->valves.size(), 16u);
    EXPECT_EQ(d->valves[0].id, "1Ea");
    EXPECT_EQ(d->valves[1].id, "1Ia");
    EXPECT_EQ(d->valves[15].id, "4Ib");
    EXPECT_NEAR(*d->valves[0].x.value, -18, 1e-12);
    EXPECT_EQ(d->bolt_diameter, 11);
    EXPECT_EQ(count(*d, survey::HoleKind::bolt), 10u);
    const auto spacing = std::find_if(d->repeats.begin(), d->repeats.end(),
                                      [](const auto& r) { return r.what == "bore spacing"; });
    ASSERT_NE(spacing, d->repeats.end());
    EXPECT_NEAR(*spacing->value, 90, 1e-9);
}

TEST(Heads, ThreeAndFiveValves) {
    // Two small intakes and one large exhaust; three intakes and two exhausts: the kind a cylinder has more
    // of are intakes (common practice).
    Deck three;
    for (int k = 0; k < 3; ++k) {
        three.valve(85 * k - 17, 14, 29);
        three.valve(85 * k + 17, 14, 29);
        three.valve(85 * k, -18, 34);
    }
    const auto d = three.taken();
    ASSERT_TRUE(d);
    EXPECT_EQ(d->cylinders, 3);
    for (const auto& v : d->valves) EXPECT_EQ(*v.kind == job::Kind::intake, *v.y.value > 0) << v.id;
    Deck five;
    for (int k = 0; k < 4; ++k) {
        for (const double dx : {-21.0, 0.0, 21.0}) five.valve(88 * k + dx, dx == 0 ? 20 : 13, 23);
        for (const double dx : {-15.0, 15.0}) five.valve(88 * k + dx, -18, 26);
    }
    const auto e = five.taken();
    ASSERT_TRUE(e);
    EXPECT_EQ(e->cylinders, 4);
    for (const auto& v : e->valves) EXPECT_EQ(*v.kind == job::Kind::intake, *v.y.value > 0) << v.id;
}

TEST(Heads, AnInjectorInTheMiddleIsNoValve) {
    Deck deck;
    for (int k = 0; k < 3; ++k) {
        for (const double dx : {-22.0, 22.0}) {
            deck.valve(110 * k + dx, 22, 36, 8);
            deck.valve(110 * k + dx, -22, 32, 8);
        }
        deck.circle(110 * k, 0, 8);  // an injector's bore with its seat: three times as wide
        deck.circle(110 * k, 0, 25);
    }
    deck.bolts(3, 110, 60, 14);
    const auto d = deck.taken();
    ASSERT_TRUE(d);
    EXPECT_EQ(d->valves.size(), 12u);
    EXPECT_EQ(d->cylinders, 3);
    EXPECT_EQ(count(*d, survey::HoleKind::plug), 3u);
    EXPECT_EQ(count(*d, survey::HoleKind::bolt), 8u);
}

TEST(Heads, BoltsWithCounterboresAndWaterHoles) {
    Deck deck;
    for (int k = 0; k < 4; ++k) {
        deck.valve(100 * k - 21, 0, 40, 8);
        deck.valve(100 * k + 21, 0, 34, 8);
        deck.circle(100 * k, 30, 16);  // water, one side of each cylinder
    }
    deck.bolts(4, 100, 45, 12);
    for (int k = 0; k <= 4; ++k) deck.circle((k - 0.5) * 100, 45, 24);  // counterbores of one row
    for (int k = 0; k < 14; ++k)
        for (const double side : {-1.0, 1.0}) deck.circle(-60 + 32 * k, side * 62, 6.5);  // a cover's
    const auto d = deck.taken();
    ASSERT_TRUE(d);
    EXPECT_EQ(d->bolt_diameter, 12);
    EXPECT_EQ(count(*d, survey::HoleKind::bolt), 10u);
    Told told;
    for (const auto& g : d->groups)
        if (g.diameters == std::vector<double>{6.5}) told.names[g.name] = "bolt";
    EXPECT_EQ(deck.taken(told)->bolt_diameter, 6.5);
}

TEST(Heads, SeatsOfOneSizeAreAskedAbout) {
    Deck deck;
    for (int k = 0; k < 2; ++k) {
        deck.valve(100 * k - 20, 0, 38, 8, "intake seats");
        deck.valve(100 * k + 20, 0, 38, 8, "exhaust seats");
    }
    const auto hinted = deck.taken();
    ASSERT_TRUE(hinted);
    EXPECT_EQ(hinted->valves[0].kind, job::Kind::intake) << "layers say what sizes do not";
    EXPECT_EQ(hinted->valves[0].id, "1I");
    EXPECT_FALSE(said(*hinted, "kind-unknown"));
    Deck other;
    for (int k = 0; k < 2; ++k) {
        other.valve(100 * k - 20, 0, 38, 8);
        other.valve(100 * k + 20, 0, 38.01, 8.01);
    }
    const auto d = other.taken();
    EXPECT_TRUE(said(*d, "kind-unknown"));
    EXPECT_EQ(d->valves.size(), 4u);
    EXPECT_TRUE(job::read_job(job_text(*d), "job.toml", {}));
}

TEST(Heads, OneValveAloneIsSomeOtherPartUnlessNamed) {
    Deck deck;
    deck.valve(10, 20, 38, 8);
    EXPECT_FALSE(deck.taken());
    Told told;
    told.names["A"] = "valve";
    const auto d = deck.taken(told);
    ASSERT_TRUE(d) << to_line(d.error()[0]);
    EXPECT_EQ(d->valves.size(), 1u);
    EXPECT_NEAR(*d->valves[0].x.value, 0, 1e-12);
    deck.valve(52, 20, 33, 8);
    EXPECT_EQ(deck.taken()->cylinders, 1);
}

TEST(Heads, OtherPartsAreNoHeads) {
    Deck plate;  // holes with washers
    for (const double x : {0.0, 120.0})
        for (const double y : {0.0, 80.0}) {
            plate.circle(x, y, 6.6);
            plate.circle(x, y, 18);
        }
    EXPECT_FALSE(plate.taken());
    Deck flange;  // eight holes with counterbores on a circle round a bore
    flange.circle(0, 0, 200);
    flange.circle(0, 0, 60);
    for (int k = 0; k < 8; ++k) {
        flange.circle(80 * std::cos(k * pi / 4), 80 * std::sin(k * pi / 4), 11);
        flange.circle(80 * std::cos(k * pi / 4), 80 * std::sin(k * pi / 4), 18);
    }
    const auto d = flange.taken();
    ASSERT_FALSE(d);
    EXPECT_NE(d.error()[0].text.find("say what the groups are"), std::string::npos) << d.error()[0].text;
}

TEST(Heads, InchesTakenForMillimetresAreRefused) {
    Deck deck;  // in inches: 0.31 in guides
    for (int k = 0; k < 4; ++k) {
        deck.valve(4 * k - 0.9, 0, 1.75, 0.31);
        deck.valve(4 * k + 0.9, 0, 1.5, 0.31);
    }
    const auto d = deck.taken();
    ASSERT_FALSE(d);
    EXPECT_NE(d.error()[0].text.find("say that it is in inches"), std::string::npos) << d.error()[0].text;
    Told inches;
    inches.units = LengthUnit::inch;
    ASSERT_TRUE(deck.taken(inches));
    EXPECT_NEAR(*deck.taken(inches)->valves.back().bore, 0.31 * 25.4, 1e-9);
}

TEST(Heads, TheJobHoldsTheFiguresToTheLastPlace) {
    Deck deck;
    for (int k = 0; k < 2; ++k) {
        deck.valve(90.123456789 * k - 20.25, 1.5, 38, 8);
        deck.valve(90.123456789 * k + 20.25, -1.5, 33, 8);
    }
    deck.bolts(2, 90.123456789, 44, 11);
    const auto d = deck.taken();
    ASSERT_TRUE(d);
    const auto job = job::read_job(job_text(*d), "job.toml", {});
    ASSERT_TRUE(job) << to_line(job.error()[0]);
    ASSERT_EQ(job->head.valves.size(), 4u);
    EXPECT_NEAR(job->head.valves[2].seat.x(), 90.123456789 - 20.25, 1e-9);
    EXPECT_EQ(job->head.bolt_holes.size(), 6u);
    EXPECT_TRUE(job->head.made_up("head.valve.1I.z"));
    EXPECT_TRUE(job->head.made_up("head.valve.2E.cant"));
    EXPECT_FALSE(job->head.made_up("head.valve.2E.x"));
}

}  // namespace
}  // namespace seatwright::drawing
