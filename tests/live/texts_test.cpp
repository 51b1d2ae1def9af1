// Numbers, times, lines of gauges and of adapters: read strictly, and refused with a sentence.
#include <gtest/gtest.h>

#include "seatwright/live/figures.hpp"
#include "seatwright/live/gauge_line.hpp"
#include "seatwright/live/lines.hpp"
#include "seatwright/live/shdr.hpp"
#include "spoken.hpp"

namespace seatwright::live {
namespace {

TEST(Figures, ANumberIsWhollyOne) {
    EXPECT_EQ(number_of(" -12.345 "), -12.345);
    EXPECT_EQ(number_of("+0012.345"), 12.345);
    EXPECT_EQ(number_of("1e-3"), 0.001);
    for (const char* bad :
         {"", " ", "12,3", "1 2", "0x1f", "nan", "inf", "-inf", "1e999", "+-1", "12.3mm", "UNAVAILABLE"})
        EXPECT_EQ(number_of(bad), std::nullopt) << bad;
    EXPECT_EQ(numbers_of("123.4567 20.1\t-55.25"), (std::vector<double>{123.4567, 20.1, -55.25}));
    EXPECT_TRUE(numbers_of("1 2 three").empty());
}

TEST(Figures, TimesOfIso8601) {
    // 2026-11-27T22:49:59Z is 1795819799 s after 1970-01-01 (GNU date).
    EXPECT_EQ(time_of("2026-11-27T22:49:59Z"), 1795819799000);
    EXPECT_EQ(time_of("2026-11-27T22:49:59.5Z"), 1795819799500);
    EXPECT_EQ(time_of("2026-11-27T22:49:59.123456789Z"), 1795819799123);
    EXPECT_EQ(time_of("2026-11-28T00:19:59+01:30"), 1795819799000);
    EXPECT_EQ(time_of("1970-01-01T00:00:00"), 0);
    EXPECT_EQ(time_of("2024-02-29T00:00:00Z"), 1709164800000);
    for (const char* bad :
         {"", "2026", "2026-02-29T00:00:00Z", "2026-13-01T00:00:00Z", "2026-11-27T25:00:00Z",
          "2026-11-27 22:49:59", "2026-11-27T22:49:59.Z", "2026-11-27T22:49:59Zx", "12345.6"})
        EXPECT_EQ(time_of(bad), std::nullopt) << bad;
}

TEST(Lines, EndedByCrLfOrBothHoweverTheyCome) {
    Lines lines;
    EXPECT_TRUE(lines.add("+0012").empty());
    EXPECT_EQ(lines.add(".345\r"), (std::vector<std::string>{"+0012.345"}));
    EXPECT_EQ(lines.add("\na\r\nb\n\n\rc"), (std::vector<std::string>{"a", "b"}));
    EXPECT_EQ(lines.add(std::string(Lines::longest + 5, 'x') + "\nd\n"), (std::vector<std::string>{"d"}));
}

TEST(GaugeLine, TheFormsGaugesUse) {
    struct Case {
        const char* line;
        double value;
        const char* unit;
    };
    for (const Case& c : {Case{"+  2.1380, MM", 2.138, "mm"}, Case{"+0012.345", 12.345, ""},
                          Case{"-0.0005 IN", -0.0005, "in"}, Case{"01A+00012.34M", 12.34, "mm"},
                          Case{"H  0.5000I", 0.5, "in"}, Case{"X: -3.5 deg", -3.5, "deg"},
                          Case{"0,0125 mm", 0.0125, "mm"}, Case{"12", 12, ""}}) {
        const auto seen = read_gauge_line(c.line);
        if (std::string(c.line).starts_with("01A")) {
            // "01" is a number of its own, "A" no unit: said, not guessed.
            EXPECT_FALSE(seen);
            continue;
        }
        ASSERT_TRUE(seen) << c.line << ": " << spoken(seen.error());
        EXPECT_EQ(seen->numbers, std::vector<double>{c.value}) << c.line;
        EXPECT_EQ(seen->unit, c.unit) << c.line;
        EXPECT_EQ(seen->raw, c.line);
    }
}

TEST(GaugeLine, WhatIsNoReadingSaysWhy) {
    const auto words = [](const std::string& line) { return spoken(read_gauge_line(line).error()); };
    EXPECT_NE(words("ERR2").find("an error of its own"), std::string::npos);
    EXPECT_NE(words("hello").find("no number"), std::string::npos);
    EXPECT_NE(words("1.2 kg").find("'kg' is no unit"), std::string::npos);
    EXPECT_NE(words("1.2.3 mm").find("is no unit"), std::string::npos);
    EXPECT_NE(words(std::string("\x01\xff", 2)).find("no number"), std::string::npos);
    EXPECT_FALSE(read_gauge_line(std::string(300, '1')));
}

TEST(Shdr, PairsOfKeyAndValue) {
    Shdr shdr;
    const auto line = shdr.read("2026-11-27T22:49:59.5Z|xpos|123.4567|ypos|UNAVAILABLE|pp|1 2 3");
    ASSERT_EQ(line.observations.size(), 3u);
    EXPECT_EQ(line.observations[0].key, "xpos");
    EXPECT_EQ(line.observations[0].numbers, std::vector<double>{123.4567});
    EXPECT_EQ(line.observations[0].stated, 1795819799500);
    EXPECT_TRUE(line.observations[1].unavailable);
    EXPECT_TRUE(line.observations[1].numbers.empty()) << "UNAVAILABLE is never 0";
    EXPECT_EQ(line.observations[2].numbers.size(), 3u);
    EXPECT_EQ(shdr.read("|xpos|1.5").observations[0].stated, std::nullopt);
    EXPECT_EQ(shdr.read("2026-11-27T22:49:59Z@12.5|xpos|1.5").observations[0].stated, 1795819799000);
    EXPECT_EQ(shdr.read("|msg|a\\|b|xpos|2").observations[0].raw, "a|b");
    EXPECT_TRUE(shdr.read("|xpos|").observations[0].unavailable);
}

TEST(Shdr, SignsOfLifeAndWhatIsPassedOver) {
    Shdr shdr;
    EXPECT_EQ(shdr.read("* PONG 10000").pong, 10000);
    EXPECT_EQ(shdr.read("* PONG 1").pong, 100) << "not asked more often than that";
    EXPECT_EQ(shdr.read("* shdrVersion: 2.0").pong, std::nullopt);
    EXPECT_TRUE(shdr.read("|@ASSET@|a1|Kind|--multiline--0F").observations.empty());
    EXPECT_TRUE(shdr.read("|xpos|9.9").observations.empty()) << "within a text of several lines";
    EXPECT_TRUE(shdr.read("--multiline--0F").observations.empty());
    EXPECT_EQ(shdr.read("|xpos|9.9").observations.size(), 1u);
    EXPECT_NE(spoken(shdr.read("what is this").fault).find("timestamp|key|value"), std::string::npos);
    EXPECT_NE(spoken(shdr.read(std::string(2000, '|')).fault).find("more than"), std::string::npos);
}

}  // namespace
}  // namespace seatwright::live
