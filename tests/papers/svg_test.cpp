// The drawing builder, the PDF and the number formats: structure by text, rendering by librsvg itself.
#include "seatwright/papers/page/svg.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <random>

#include "seatwright/papers/page/lettering.hpp"
#include "seatwright/papers/page/pdf.hpp"
#include "seatwright/papers/page/pdf_library.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/report/table.hpp"
#include "spoken.hpp"

namespace seatwright::papers {
namespace {

using namespace report;

Drawing sample() {
    Drawing d(100, 60, "a <sample> & more", "for tests");
    d.circle({30, 30}, 10, {Ink::touch, 0.5, {}});
    d.disc({30, 30}, 1, Ink::warn);
    d.ellipse({60, 30}, 10, 4, 0.5);
    d.dimension({20, 45}, {80, 45}, -6, "60.000 mm");
    d.leader({30, 20}, {45, 10}, "seat 1I");
    d.text({50, 55}, "R < 5 & rising", 4, Anchor::middle);
    return d;
}

TEST(Svg, WordsAreEscapedAndStayText) {
    const auto svg = sample().document();
    EXPECT_NE(svg.find("R &lt; 5 &amp; rising"), std::string::npos);
    EXPECT_NE(svg.find("<title>a &lt;sample&gt; &amp; more</title>"), std::string::npos);
    EXPECT_EQ(svg.find("<sample>"), std::string::npos);
}

TEST(Svg, NotFiniteCoordinatesAreRefused) {
    Drawing d(10, 10, "", "");
    EXPECT_THROW(d.line({0, 0}, {std::nan(""), 1}), std::logic_error);
}

// As the C library writes it, without the zeros behind.
std::string printed(double v) {
    std::array<char, 400> room{};
    std::snprintf(room.data(), room.size(), "%.3f", v);
    std::string text = room.data();
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text == "-0" ? "0" : text;
}

std::string drawn(double v) {
    Drawing d(10, 10, "", "");
    d.line({v, 0}, {0, 0});
    const std::string text = d.document(), before = "x1=\"";
    const auto at = text.find(before) + before.size();
    return text.substr(at, text.find('"', at) - at);
}

TEST(Svg, CoordinatesAreRoundedAsTheCLibraryRounds) {
    std::mt19937 dice(7);
    std::uniform_real_distribution<double> part(-1, 1), size(-5, 13);
    for (int i = 0; i < 20'000; ++i) {
        const double v = part(dice) * std::pow(10, size(dice));
        EXPECT_EQ(drawn(v), printed(v)) << v;
        // Half-way between two thousandths, as near as a double comes, and next to it.
        const double half = std::round(v * 1000) / 1000 + 0.0005;
        for (const double near : {half, std::nextafter(half, 1e300), std::nextafter(half, -1e300), -half})
            EXPECT_EQ(drawn(near), printed(near)) << near;
    }
    for (const double v : {0.0, -0.0, 0.0004, -0.0004, 0.0005, 0.0625, 1.0, -1.5, 999999.9995, 1e6, 1e15})
        EXPECT_EQ(drawn(v), printed(v)) << v;
}

TEST(Lettering, ALineTakesAllWordsThatFitAndNoMore) {
    std::mt19937 dice(3);
    std::uniform_int_distribution<int> letter(33, 126), length(1, 12), count(0, 60);
    for (int i = 0; i < 500; ++i) {
        std::string words;
        for (int n = count(dice); n > 0; --n) {
            if (!words.empty()) words += ' ';
            for (int k = length(dice); k > 0; --k) words += static_cast<char>(letter(dice));
        }
        const auto lines = wrapped_lines(words, 60, 3);
        EXPECT_EQ(fmt::format("{}", fmt::join(lines, " ")), words);
        for (std::size_t at = 0; at < lines.size(); ++at) {
            const bool alone = lines[at].find(' ') == std::string::npos;
            EXPECT_TRUE(alone || words_width(lines[at], 3) <= 60) << lines[at];
            if (at + 1 == lines.size()) break;
            const std::string next = lines[at + 1].substr(0, lines[at + 1].find(' '));
            EXPECT_GT(words_width(lines[at] + ' ' + next, 3), 60) << lines[at] << '|' << next;
        }
    }
}

TEST(Pdf, PagesAreRepeatableAndCarryTheirText) {
    const auto one = pdf_of({sample().document(), sample().document()}, a4, "sheet");
    const auto two = pdf_of({sample().document(), sample().document()}, a4, "sheet");
    ASSERT_TRUE(one) << one.error();
    ASSERT_TRUE(two);
    EXPECT_EQ(*one, *two);
    EXPECT_EQ(one->substr(0, 5), "%PDF-");
    // librsvg drops text without a word when no font is there: an embedded font proves that it did not.
    EXPECT_NE(one->find("/FontFile"), std::string::npos);
}

TEST(Pdf, BrokenSvgIsASentence) {
    const auto broken = pdf_of({"<svg"}, a4, "x");
    ASSERT_FALSE(broken);
    EXPECT_NE(broken.error().find("cannot be read"), std::string::npos);
}

// The drawing library is opened while the program runs: what is wrong with it is said, not crashed on.
TEST(Pdf, MissingLibraryIsASentence) {
    const auto none = open_pdf_library("libseatwright-none.so.0");
    ASSERT_FALSE(none);
    EXPECT_NE(none.error().find("libseatwright-none.so.0"), std::string::npos) << none.error();
    EXPECT_NE(none.error().find("librsvg2-2"), std::string::npos) << none.error();
    const auto other = open_pdf_library("libm.so.6");
    ASSERT_FALSE(other);
    EXPECT_NE(other.error().find("rsvg_handle_new_from_data, which libm.so.6"), std::string::npos)
        << other.error();
}

TEST(Show, LengthsInBothUnits) {
    EXPECT_EQ(length(25.4, LengthUnit::inch), "1.0000");
    EXPECT_EQ(length(25.4, LengthUnit::mm), "25.400");
    EXPECT_EQ(length(-0.0000001, LengthUnit::mm), "0.000");
    EXPECT_EQ(length(std::nullopt, LengthUnit::mm), "–");
    EXPECT_EQ(length_with_unit(38.1, LengthUnit::inch), "1.5000 in");
    EXPECT_EQ(percent(0.99999999), "> 99.999 %");
    EXPECT_EQ(percent(0.5), "50.0 %");
}

TEST(Table, NumbersAlignRightWordsLeft) {
    Table t({"guide", "X mm"});
    t.row({"1I", "0.000"});
    t.row({"12Ea", "-112.500"});
    EXPECT_EQ(t.text(), "guide      X mm\n1I        0.000\n12Ea   -112.500\n");
}

TEST(Table, BlockingWarningsComeFirst) {
    Notices n;
    n.warnings.push_back({"hold", "a", std::nullopt, saying("a small thing"), Severity::note});
    n.warnings.push_back({"hold", "b", "3E", saying("a great thing"), Severity::blocking});
    EXPECT_EQ(warnings_text(n, {}), "STOP  hold 3E: a great thing\nnote  hold: a small thing\n");
}

}  // namespace
}  // namespace seatwright::papers
