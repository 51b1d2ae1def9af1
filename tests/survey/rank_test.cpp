// What readings leave open, and the reading that closes it: each statement of the model by a survey that
// lacks it.
#include <gtest/gtest.h>

#include <algorithm>

#include "spoken.hpp"
#include "survey/simulated.hpp"
#include "survey/surveyed.hpp"

namespace seatwright::survey {
namespace {

using simulated::layout;

struct Shop {
    simulated::Head head;
    simulated::Read read;
    Survey found;
};

Shop shop(const std::string& kind, const simulated::Procedure& how, std::uint64_t seed = 5) {
    simulated::Normal normal(seed);
    const simulated::Sds sds;
    Shop out{simulated::head_of(layout(kind), sds, normal), {}, {}};
    simulated::Machine machine(out.head, sds, normal);
    out.read = machine.read(how);
    out.found = surveyed(out.read.text);
    return out;
}

bool says(const Survey& survey, const std::string& part) {
    return std::any_of(survey.missing.begin(), survey.missing.end(), [&](const Missing& m) {
        return (spoken(m.what) + " " + spoken(m.next)).find(part) != std::string::npos;
    });
}

bool blocked(const Survey& survey) {
    return std::any_of(survey.warnings.begin(), survey.warnings.end(),
                       [](const Warning& w) { return w.severity == Severity::blocking; });
}

TEST(LeftOpen, NothingByTheFullProcedure) {
    const auto s = shop("pent-roof", {});
    EXPECT_TRUE(s.found.whole());
    EXPECT_TRUE(s.found.missing.empty()) << spoken(s.found.missing.front().what);
    EXPECT_FALSE(blocked(s.found));
}

TEST(LeftOpen, OneHoleASetupLeavesItsYaw) {
    auto how = simulated::Procedure{};
    how.holes_a_setup = 1;
    const auto s = shop("pent-roof", how);
    EXPECT_FALSE(s.found.whole());
    EXPECT_TRUE(blocked(s.found));
    // Places of one of the two rows are known against each other, not those of the other row.
    const bool intake = valve(s.found, "4Ia").x.value && valve(s.found, "4Ia").y.value;
    const bool exhaust = valve(s.found, "4Ea").x.value && valve(s.found, "4Ea").y.value;
    EXPECT_NE(intake, exhaust);
    EXPECT_TRUE(says(s.found, "two holes far apart in setup")) << spoken(s.found.missing.front().next);
}

TEST(LeftOpen, WithoutTheDecksHeightYAndZ) {
    auto how = simulated::Procedure{};
    how.hole_heights = false;
    how.deck_places_a_setup = 0;
    const auto s = shop("pent-roof", how);
    for (const auto& v : s.found.valves) {
        EXPECT_TRUE(v.x.value) << v.id;
        EXPECT_FALSE(v.y.value) << v.id;
        EXPECT_FALSE(v.z.value) << v.id;
        // What is known is y·cos φ − z·sin φ.
        const double tilt = rad(v.name.kind == job::Kind::intake ? -14 : 16);
        const Vec3 known(0, std::cos(tilt), -std::sin(tilt));
        EXPECT_LT(std::sqrt(known.dot(v.covariance * known)), 0.3) << v.id;
        EXPECT_GT(v.y.u, 1) << v.id;
    }
    EXPECT_TRUE(says(s.found, "setup A") && says(s.found, "setup B")) << spoken(s.found.missing.front().next);
    EXPECT_TRUE(says(s.found, "deck")) << spoken(s.found.missing.front().next);
}

TEST(LeftOpen, OnePlaceOfTheDeckClosesThem) {
    auto how = simulated::Procedure{};
    how.hole_heights = false;
    how.deck_places_a_setup = 1;
    EXPECT_TRUE(shop("pent-roof", how).found.whole());
}

// The sensor never on the deck, and no three places of it: its zero and a turn of the head about X are one.
TEST(LeftOpen, TheSensorNeverOnTheDeckLeavesEveryIncline) {
    auto how = simulated::Procedure{};
    how.sensor_on_deck = false;
    how.deck_places = false;
    how.deck_places_a_setup = 0;
    const auto s = shop("pent-roof", how);
    for (const auto& v : s.found.valves) {
        EXPECT_FALSE(v.incline.value) << v.id;
        EXPECT_FALSE(v.z.value) << v.id;
    }
    ASSERT_FALSE(s.found.missing.empty());
    EXPECT_TRUE(says(s.found, "what = \"deck\"")) << spoken(s.found.missing.front().next);
    EXPECT_TRUE(says(s.found, "the sensor on the deck") || says(s.found, "the deck at three places"));
}

// Holes on one line say nothing of it, however many and however high they are read.
TEST(LeftOpen, ARowOfHolesOnOneLineSaysNothingOfTheZero) {
    auto how = simulated::Procedure{};
    how.sensor_on_deck = false;
    how.deck_places = false;
    how.deck_places_a_setup = 0;
    how.hole_heights = true;
    how.sensor_in_guides = false;
    for (const auto& v : shop("wedge", how).found.valves) EXPECT_FALSE(v.incline.value) << v.id;
}

// The slope across likewise: on a head without cant nothing else says how the deck lies along the table.
// (Canted guides do: at another swing two holes stand another way apart.)
TEST(LeftOpen, TheSensorOnTheDeckOneWayOnlyLeavesEveryCant) {
    auto how = simulated::Procedure{};
    how.deck_places = false;
    how.deck_places_a_setup = 0;
    how.hole_heights = false;
    how.sensor_on_deck_along = false;
    how.tilts = false;  // the swing typed of a setup is a reading of the slope, too
    const auto s = shop("pent-roof", how);
    for (const auto& v : s.found.valves) {
        EXPECT_TRUE(v.incline.value) << v.id;
        EXPECT_FALSE(v.cant.value) << v.id;
    }
    EXPECT_TRUE(says(s.found, "cant") || says(s.found, "deck at three places"))
        << spoken(s.found.missing.front().next);
    how.deck_places = true;  // three heights, two along the head and one across
    for (const auto& v : shop("pent-roof", how).found.valves) EXPECT_TRUE(v.cant.value) << v.id;
}

TEST(LeftOpen, ThreePlacesOfTheDeckCloseThem) {
    auto how = simulated::Procedure{};
    how.sensor_on_deck = false;
    how.deck_places = false;
    how.deck_places_a_setup = 3;
    const auto s = shop("pent-roof", how);
    EXPECT_TRUE(s.found.whole());
}

TEST(LeftOpen, ZeroSetOnTheDeckIsTakenAtItsWordAndSaid) {
    auto how = simulated::Procedure{};
    how.sensor_on_deck = false;
    how.deck_places = false;
    how.deck_places_a_setup = 0;
    how.sensor_in_guides = false;
    how.zero = "deck";
    const auto s = shop("wedge", how);
    for (const auto& v : s.found.valves) EXPECT_TRUE(v.incline.value) << v.id;
    EXPECT_TRUE(std::any_of(s.found.assumptions.begin(), s.found.assumptions.end(), [](const Sentence& a) {
        return spoken(a).find("sensor.zero") != std::string::npos;
    }));
}

TEST(LeftOpen, NoSeatHeightsLeaveYAndZOfATiltedGuide) {
    auto how = simulated::Procedure{};
    how.seat_heights = false;
    const auto s = shop("hemispherical", how);
    for (const auto& v : s.found.valves) {
        EXPECT_TRUE(v.x.value && v.incline.value) << v.id;
        EXPECT_FALSE(v.z.value) << v.id;
    }
    EXPECT_TRUE(says(s.found, "valve head"));
}

TEST(LeftOpen, AGuideNeverLevelledLeansAsThePilotThatStoodPlumb) {
    auto how = simulated::Procedure{};
    how.sensor_in_guides = false;
    const auto s = shop("pent-roof", how);
    for (const auto& v : s.found.valves) {
        ASSERT_TRUE(v.incline.value) << v.id;
        EXPECT_GT(deg(v.incline.u), 0.07);
        EXPECT_LT(deg(v.incline.u), 0.09);
    }
    EXPECT_TRUE(says(s.found, "the sensor on a pilot"));
}

// One setup only: the other row is asked for in a setup of its own, with the tilt at which it stands plumb.
TEST(LeftOpen, OneSetupOnlyLeavesTheOtherRow) {
    auto s = shop("pent-roof", {});
    std::string one;
    for (std::size_t at = 0; at < s.read.text.size();) {
        const auto next = std::min(s.read.text.find("\n[[", at), s.read.text.size() - 1) + 1;
        const auto block = s.read.text.substr(at, next - at);
        if (block.find("setup = \"B\"") == std::string::npos) one += block;
        at = next;
    }
    const auto found = surveyed(one);
    for (const auto& v : found.valves) EXPECT_EQ(v.whole(), v.name.kind == job::Kind::intake) << v.id;
    ASSERT_EQ(found.missing.size(), 1u);
    EXPECT_NE(spoken(found.missing[0].next).find("tilt to 1"), std::string::npos)
        << spoken(found.missing[0].next);
    EXPECT_NE(spoken(found.missing[0].what).find("4Eb"), std::string::npos) << spoken(found.missing[0].what);
}

// Every figure asked for helps: the list goes from what helps most to what helps least.
TEST(LeftOpen, WhatHelpsMostIsAskedForFirst) {
    auto how = simulated::Procedure{};
    how.sensor_on_deck = false;
    how.deck_places = false;
    how.deck_places_a_setup = 0;
    how.seat_heights = false;
    const auto s = shop("pent-roof", how);
    ASSERT_GE(s.found.missing.size(), 2u);
    for (const auto& m : s.found.missing) EXPECT_GT(m.help, 0) << spoken(m.what);
}

}  // namespace
}  // namespace seatwright::survey
