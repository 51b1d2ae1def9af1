// When a value is offered as a reading, and when it is refused with a sentence.
#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <random>

#include "live/agent.hpp"
#include "other_language.hpp"
#include "seatwright/live/follow.hpp"
#include "seatwright/live/gauge_line.hpp"
#include "seatwright/live/shdr.hpp"
#include "seatwright/live/watch.hpp"
#include "spoken.hpp"

namespace seatwright::live {
namespace {

Observation number(const std::string& key, double value, std::optional<Ms> stated = {}) {
    Observation seen;
    seen.key = key;
    seen.raw = std::to_string(value);
    seen.numbers = {value};
    seen.stated = stated;
    return seen;
}

WatchSettings mill() {
    WatchSettings s;
    s.name = "mill";
    s.channels = {{"x", "xpos", 0, "mm", 1, -300, 300}, {"y", "ypos", 0, "mm", -1, -200, 200}};
    s.still = {0.005, 800};
    return s;
}

void expect_says(const Sentence& what, const std::string& part, LengthUnit unit = LengthUnit::mm) {
    const std::string said = spoken(what, unit);
    EXPECT_NE(said.find(part), std::string::npos) << "'" << said << "' does not say '" << part << "'";
}

TEST(Stillness, WithinStillForDwellAndOnceOnly) {
    Stillness s(800, {0.005});
    s.see(0, 10, 0);
    EXPECT_FALSE(s.came_to_rest(700)) << "not long enough";
    EXPECT_TRUE(s.came_to_rest(800));
    EXPECT_FALSE(s.came_to_rest(900)) << "said once";
    s.see(0, 10.004, 1000);
    EXPECT_FALSE(s.came_to_rest(1100)) << "within still: nothing new";
    s.see(0, 12, 1200);
    s.see(0, 10, 1300);
    EXPECT_FALSE(s.came_to_rest(2099)) << "12 is within the last 800 ms";
    EXPECT_TRUE(s.came_to_rest(2101)) << "it was moved and came back";
    s.forget();
    EXPECT_FALSE(s.came_to_rest(9000));
}

// A table tilts by hundredths of a degree while it stands still within thousandths of a mm.
TEST(Stillness, AnAngleStandsStillByItsOwnFigure) {
    auto settings = mill();
    settings.channels[1] = {"tilt", "tilt", 0, "deg", 1, -45, 45};
    const auto rests = [&](double still_deg) {
        settings.still.still_deg = still_deg;
        Watch watch(settings);
        watch.see(number("xpos", 10), 0);
        watch.see(number("tilt", 19.5), 0);
        watch.see(number("tilt", 19.52), 400);
        watch.see(number("xpos", 10.002), 500);
        return watch.rest(900).has_value();
    };
    EXPECT_TRUE(rests(0.03));
    EXPECT_FALSE(rests(0.01)) << "the angle moved";
    settings.still.still = 0.001;
    EXPECT_FALSE(rests(0.03)) << "the length moved";
}

// Against the plain definition: the highest less the lowest of all that stood in the last dwell.
TEST(Stillness, AgreesWithTheDefinitionOnRandomWalks) {
    std::mt19937 chance(7);
    int rests = 0;
    for (int walk = 0; walk < 200; ++walk) {
        const Ms dwell = 50;
        Stillness s(dwell, {0.02});
        std::vector<std::pair<Ms, double>> all;
        double value = 0;
        Ms now = 0;
        bool moved = true;
        std::optional<double> said;
        for (int n = 0; n < 200; ++n) {
            now += static_cast<Ms>(chance() % 20);
            if (chance() % 3 != 0) value += (static_cast<int>(chance() % 3) - 1) * 0.01;
            s.see(0, value, now);
            all.emplace_back(now, value);
            double low = value, high = value;
            for (std::size_t i = 0; i < all.size(); ++i) {
                const Ms until = i + 1 < all.size() ? all[i + 1].first : now;
                if (until < now - dwell) continue;
                low = std::min(low, all[i].second);
                high = std::max(high, all[i].second);
            }
            const bool still = now - all.front().first >= dwell && high - low <= 0.02;
            const bool offered = still && (moved || !said || std::abs(*said - value) > 0.02);
            moved = !still;
            if (offered) said = value, ++rests;
            EXPECT_EQ(s.came_to_rest(now).has_value(), offered) << walk << " " << n;
        }
    }
    EXPECT_GT(rests, 200);
}

TEST(Watch, BothOfATouchMustStandStill) {
    Watch watch(mill());
    watch.see(number("xpos", 12.3456), 0);
    watch.see(number("ypos", 20), 0);
    watch.see(number("ypos", 25), 600);
    EXPECT_FALSE(watch.rest(900));
    watch.heard(1500);
    const auto offered = watch.rest(1500);
    ASSERT_TRUE(offered);
    EXPECT_EQ(offered->source, "mill");
    EXPECT_EQ(offered->by, Decides::stillness);
    ASSERT_EQ(offered->readings.size(), 2u);
    EXPECT_EQ(offered->readings[0].value, 12.3456);
    EXPECT_EQ(offered->readings[1].value, -25) << "the sign of the readout";
    EXPECT_EQ(offered->readings[0].raw, "12.345600");
}

TEST(Watch, ALimitOnOneSideAndAnAngleAreSaidAsWhatTheyAre) {
    WatchSettings s = mill();
    s.channels = {{"z", "", 0, "mm", 1, std::nullopt, 10}};
    Watch below(s);
    below.see(number("", 12), 0);
    expect_says(below.take(0).error(), "(at most 10.000 mm)");
    s.channels = {{"tilt", "", 0, "deg", 1, -30, std::nullopt}};
    Watch tilt(s);
    tilt.see(number("", -31.5), 0);
    expect_says(tilt.take(0).error(),
                "-31.5000 deg: that is beyond what can be reached (at least -30.000 deg)", LengthUnit::inch);
}

// Whatever goes wrong is a code with its values: in another language nothing of it is left in English.
TEST(Watch, AnotherLanguageSaysWhyThereIsNoReading) {
    const auto other = fixtures::other_language();
    std::size_t said = 0;
    const auto expect_other = [&](const Sentence& what) {
        const std::string words = in_words(what, {LengthUnit::inch, other.catalogue.get()});
        EXPECT_EQ(fixtures::english_left(words), std::vector<std::string>{}) << words;
        EXPECT_GT(fixtures::runs_of_other(words), 0u) << words;
        ++said;
    };
    Watch watch(mill());
    expect_other(watch.take(0).error());
    watch.see(number("xpos", 301), 0);
    expect_other(watch.take(0).error());
    Observation gone = number("xpos", 0);
    gone.numbers.clear();
    gone.unavailable = true;
    watch.see(gone, 10);
    expect_other(watch.take(10).error());
    watch.see(number("xpos", 1, 100'000), 20);
    expect_other(watch.standing(20).remark);
    expect_other(watch.take(9'000).error());
    expect_other(read_gauge_line("ERR2").error());
    expect_other(read_agent("<html/>").error());
    expect_other(Shdr().read("what is this").fault);
    Follow follow;
    follow.take(Agent().devices());
    expect_other(follow.take("nothing").notes.at(0));
    EXPECT_EQ(said, 9u);
}

// A reading of the last guide must not be taken at the next.
TEST(Watch, WhatCameToRestCountsNoMoreOnceItMoves) {
    Watch watch(mill());
    watch.see(number("xpos", 10), 0);
    watch.see(number("ypos", 20), 0);
    EXPECT_FALSE(watch.rests(100));
    watch.heard(900);
    ASSERT_TRUE(watch.rest(900));
    EXPECT_TRUE(watch.rests(900));
    watch.heard(1500);
    EXPECT_FALSE(watch.rest(1500)) << "said once";
    EXPECT_TRUE(watch.rests(1500)) << "and stands there still";
    watch.see(number("xpos", 14), 1600);
    watch.rest(1650);
    EXPECT_FALSE(watch.rests(1650));
    watch.heard(2500);
    ASSERT_TRUE(watch.rest(2500));
    EXPECT_FALSE(watch.rests(9000)) << "nothing is heard of it any more";
    watch.lost();
    EXPECT_FALSE(watch.rests(2600));
}

TEST(Watch, UnavailableIsNeverAReading) {
    Watch watch(mill());
    watch.see(number("xpos", 1), 0);
    watch.see(number("ypos", 2), 0);
    Observation gone = number("xpos", 0);
    gone.numbers.clear();
    gone.unavailable = true;
    gone.raw = "UNAVAILABLE";
    watch.see(gone, 100);
    watch.heard(2000);
    EXPECT_FALSE(watch.rest(2000));
    expect_says(watch.take(2000).error(), "UNAVAILABLE");
    EXPECT_EQ(watch.standing(2000).values.count("x"), 0u);
    // It comes back: it must stand still anew.
    watch.see(number("xpos", 1), 2100);
    EXPECT_FALSE(watch.rest(2200));
    EXPECT_TRUE(watch.rest(2900));
}

TEST(Watch, ASourceThatIsSilentOrStartedAnewHasNoReading) {
    Watch watch(mill());
    expect_says(watch.take(0).error(), "nothing has been heard yet");
    watch.see(number("xpos", 1), 0);
    expect_says(watch.take(10).error(), "y: nothing of it has come yet");
    watch.see(number("ypos", 2), 0);
    EXPECT_TRUE(watch.take(100));
    EXPECT_FALSE(watch.rest(5000)) << "still for five seconds because nothing comes";
    expect_says(watch.take(5000).error(), "nothing was heard for 5 s");
    EXPECT_TRUE(watch.standing(5000).stale);
    watch.lost();
    expect_says(watch.take(5000).error(), "nothing has been heard yet");
}

TEST(Watch, OtherUnitsAndWhatCannotBeReached) {
    WatchSettings s = mill();
    s.channels = {{"depth", "", 0, "mm", 1, 0, 12.7}};
    Watch watch(s);
    Observation in_inches = number("", 0.2);
    in_inches.unit = "in";
    in_inches.raw = "0.2000 IN";
    watch.see(in_inches, 0);
    expect_says(watch.take(0).error(), "in in, and was set up in mm");
    watch.see(number("", 12.71), 10);
    expect_says(watch.take(10).error(), "beyond what can be reached");
    // A gauge that says no unit and counts in the other: 0.2 would be right in mm too, 12.7 in inches is not.
    s.channels[0].unit = "in";
    Watch inches(s);
    inches.see(number("", 5.08), 0);
    expect_says(inches.take(0).error(), "it would be right in millimetres");
    // Said in the unit of who asks, with the values beside.
    expect_says(inches.take(0).error(),
                "129.0320 mm: that is beyond what can be reached (0.000 mm to 12.700 mm)");
    expect_says(inches.take(0).error(),
                "5.08000 in: that is beyond what can be reached (0.0000 in to 0.5000 in)", LengthUnit::inch);
    inches.see(number("", 0.25), 10);
    EXPECT_DOUBLE_EQ(inches.take(10)->readings[0].value, 6.35);
    Observation words = number("", 0);
    words.numbers.clear();
    words.raw = "READY";
    inches.see(words, 20);
    expect_says(inches.take(20).error(), "no number");
    s.channels[0].part = 2;
    Watch third(s);
    third.see(number("", 1), 0);
    expect_says(third.take(0).error(), "number 3 of them");
}

TEST(Watch, APedalDecidesWhenItGoesDown) {
    WatchSettings s = mill();
    s.decides = Decides::pedal;
    s.pedal_key = "pedal";
    Watch watch(s);
    watch.see(number("xpos", 1), 0);
    watch.see(number("ypos", 2), 0);
    Observation pedal;
    pedal.key = "pedal";
    const auto press = [&](const char* raw, Ms now) {
        pedal.raw = raw;
        return watch.see(pedal, now);
    };
    EXPECT_FALSE(press("ACTIVE", 10)) << "it may have been down for hours";
    EXPECT_FALSE(press("INACTIVE", 20));
    const auto offered = press("ACTIVE", 30);
    ASSERT_TRUE(offered);
    EXPECT_EQ(offered->by, Decides::pedal);
    EXPECT_FALSE(press("ACTIVE", 40)) << "held down";
    EXPECT_FALSE(watch.rest(2000)) << "standing still decides nothing here";
}

TEST(Watch, EachOfAGaugeThatSendsAtItsOwnButton) {
    WatchSettings s = mill();
    s.channels = {{"depth", "", 0, "mm", 1}};
    s.decides = Decides::each;
    Watch watch(s);
    EXPECT_TRUE(watch.see(number("", 1), 0));
    EXPECT_TRUE(watch.see(number("", 1), 10)) << "the same value again is another reading";
}

TEST(Clock, TimesThatLieAreSaidAndDecideNothing) {
    constexpr Ms noon = 1'795'780'800'000;
    Watch watch(mill());
    const auto both = [&](Ms stated, Ms now) {
        watch.see(number("xpos", 1, stated), now);
        watch.see(number("ypos", 2, stated), now);
        return watch.standing(now).remark;
    };
    EXPECT_EQ(spoken(both(noon, noon + 30)), "");
    expect_says(both(noon + 60'000, noon + 100), "60 s ahead");
    expect_says(both(noon - 5'000, noon + 200), "run backwards");
    EXPECT_TRUE(watch.take(noon + 200)) << "a wrong clock keeps nobody from reading";
    EXPECT_EQ(spoken(watch.take(noon + 200)->remark),
              "the source's times run backwards: they are not believed");
    // Behind by hours, steadily: said, taken. Then a value that comes ten seconds late: not taken.
    Watch slow(mill());
    slow.see(number("xpos", 1, noon - 7'200'000), noon);
    slow.see(number("ypos", 1, noon - 7'200'000), noon);
    expect_says(slow.standing(noon).remark, "7200 s behind");
    EXPECT_TRUE(slow.take(noon));
    slow.see(number("xpos", 1, noon - 7'200'000 + 100), noon + 10'100);
    expect_says(slow.take(noon + 10'100).error(), "10 s late");
}

TEST(Watch, AThousandAndMoreASecondCostNothing) {
    WatchSettings s = mill();
    Watch watch(s);
    std::mt19937 chance(3);
    const auto begin = std::chrono::steady_clock::now();
    constexpr int updates = 200'000;
    int offered = 0;
    for (int n = 0; n < updates; ++n) {
        watch.see(number(n % 2 == 0 ? "xpos" : "ypos", 1 + static_cast<double>(chance() % 3) * 0.001), n);
        if (n % 50 == 0 && watch.rest(n)) ++offered;
    }
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - begin;
    EXPECT_EQ(offered, 1);
    EXPECT_LT(took.count(), 20.0) << "200 s of 1000 a second";
}

}  // namespace
}  // namespace seatwright::live
