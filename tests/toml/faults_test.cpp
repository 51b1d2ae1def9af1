// Every fault of a text in one pass, each with its place, and what can be read beside it.
#include <gtest/gtest.h>

#include "seatwright/toml/document.hpp"
#include "toml/generate.hpp"

namespace seatwright::toml {
namespace {

std::string lines_of(const Document& document) {
    std::string out;
    for (const auto& wrong : document.faults())
        out +=
            std::to_string(wrong.at.line) + ":" + std::to_string(wrong.at.column) + " " + wrong.text + "\n";
    return out;
}

std::string faults_of(const std::string& text, const Rules& rules = {}) {
    return lines_of(Document::parse(text, rules));
}

TEST(TomlFaults, AllOfATextAreToldWithTheirPlaces) {
    const std::string text =
        "title = \"one\n"
        "units = mm\n"
        "\xC3\xA9t\xC3\xA9 = 1\n"
        "[head\n"
        "mass = 5 kg\n"
        "path = 'it' # fine\n"
        "[seat]\n"
        "width = 1.5\n"
        "width = 1.6\n"
        "top = [ { angle = 3O }, { angle = \"\xC3\xA9\\q\" } ]\n"
        "big = 9223372036854775808\n"
        "[seat]\n"
        "angle = 45\n"
        "angle = 46\n"
        "[seat.width]\n"
        "x = 1 # \xFF\n"
        "[[seat]]\n";
    EXPECT_EQ(faults_of(text),
              "1:9 a text is not closed; wanted: \"\n"
              "2:9 mm is neither a number nor true or false; put texts and units in quotes\n"
              "3:1 \"\xC3\xA9\" stands outside quotes; put the text in quotes (\"\xE2\x80\xA6\") or write "
              "plain letters\n"
              "4:6 the line ends where ] is wanted\n"
              "5:10 k stands where the end of the line is wanted\n"
              "9:1 width is given twice, first in line 8; keep one of the two\n"
              "10:19 3O is neither a number nor true or false; put texts and units in quotes\n"
              "10:37 a backslash in a text starts an escape; write \\\\ for the backslash itself\n"
              "11:7 9223372036854775808 is too large a number; check its figures and its exponent\n"
              "12:1 [seat] is opened twice, first in line 7; put all its keys under one of the two\n"
              "14:1 angle is given twice, first in line 13; keep one of the two\n"
              "15:1 seat.width is a number already, from line 8; keep one of the two\n"
              "16:9 byte 0xFF is not UTF-8 text; save the file as UTF-8\n"
              "17:1 seat is a table already, from line 7; keep one of the two\n");
}

TEST(TomlFaults, WhatIsWrongIsThereButSaysNothing) {
    const auto document = Document::parse(
        "a = \nb = 5 mm\nc = [1, x]\nd = 2\nd = 3\ne = { f = 1, f = 2 }\ng 7\nh = \"\\q\"\n[i]\nj = "
        "1\n[i.j]\nk = 1\n");
    const Value root = document.root();
    for (const char* name : {"a", "b", "c", "e", "g", "h"}) {
        EXPECT_EQ(root.find(name).kind(), Kind::nothing) << name;
        EXPECT_EQ(root.find(name).size(), 0u) << name;
        EXPECT_FALSE(root.find(name).text() || root.find(name).number()) << name;
    }
    EXPECT_EQ(root.find("d").integer(), 2);
    EXPECT_EQ(root.find("i").find("j").integer(), 1);
    EXPECT_FALSE(root.find("i").find("k"));
    EXPECT_EQ(root.size(), 8u);
    EXPECT_EQ(root.find("b").line(), 2);
}

TEST(TomlFaults, GoesOnBehindWhatIsNotClosed) {
    EXPECT_EQ(faults_of("a = [1, 2\nb = 3\nc = ?\n"),
              "2:1 b stands where a comma or ] is wanted\n3:5 ? stands where a value is wanted\n");
    EXPECT_EQ(faults_of("a = [\n 1,\n 2,\n"), "1:5 a list is not closed; wanted: ]\n");
    const auto unclosed = Document::parse("a = \"\"\"\nb = 1\n[c]\nd = ?\n");
    EXPECT_EQ(lines_of(unclosed),
              "1:5 a text is not closed; wanted: \"\"\"\n4:5 ? stands where a value is wanted\n");
    EXPECT_EQ(unclosed.root().find("b").integer(), 1);
    // Lines of a list are no statements; the header behind it is one.
    EXPECT_EQ(faults_of("v = [\n  { k = 1 }\n  { k = 2 }\n]\n[c]\nc = ?\n"),
              "3:3 { stands where a comma or ] is wanted\n6:5 ? stands where a value is wanted\n");
    EXPECT_EQ(
        faults_of("[a\nb = 1\nb = 2\n"),
        "1:3 the line ends where ] is wanted\n3:1 b is given twice, first in line 2; keep one of the two\n");
}

TEST(TomlFaults, ColumnsCountCharactersAndBytesCountBytes) {
    const auto document = Document::parse("a = \"\xC3\xA9\xE2\x82\xAC\" ?\n");
    ASSERT_EQ(document.faults().size(), 1u);
    EXPECT_EQ(document.faults()[0].at.byte, 12u);
    EXPECT_EQ(document.faults()[0].at.column, 10);
    EXPECT_EQ(document.place_of(12).column, 10);
    EXPECT_EQ(document.place_of(0).line, 1);
    // Two in a line: the second is counted on from the first.
    EXPECT_EQ(faults_of("a = [ x, \"\xC3\xA9\", y ]\n").substr(0, 4), "1:7 ");
    EXPECT_NE(faults_of("a = [ x, \"\xC3\xA9\", y ]\n").find("1:15 y"), std::string::npos);
}

TEST(TomlFaults, ManyAreCounted) {
    std::string text;
    for (int i = 0; i < 1000; ++i) text += "a b = 1\n";
    for (int i = 0; i < 500; ++i) text += "# \x01\n";
    const auto document = Document::parse(text);
    EXPECT_EQ(document.faults().size(), max_faults);
    EXPECT_EQ(document.faults().size() + document.more_faults(), 1000u + 999u + 500u)
        << "a is given again, too";
    for (std::size_t i = 1; i < document.faults().size(); ++i)
        EXPECT_LE(document.faults()[i - 1].at.byte, document.faults()[i].at.byte);
}

TEST(TomlFaults, LimitsAndRules) {
    Rules small;
    small.most_bytes = 1 << 20;
    EXPECT_EQ(faults_of(std::string((1 << 20) + 1, '#'), small),
              "0:0 the file has 1048577 bytes; at most 1048576 (1 MiB) are read\n");
    Rules plain;
    plain.moments = plain.octal_and_binary = false;
    for (const char* value : {"1979-05-27", "07:32:00", "1979-05-27 07:32:00Z", "0o17", "0b1"}) {
        EXPECT_EQ(faults_of(std::string("a = ") + value + "\n"), "") << value;
        EXPECT_EQ(faults_of(std::string("a = ") + value + "\n", plain),
                  std::string("1:5 ") + value +
                      " is neither a number nor true or false; put texts and units in quotes\n");
    }
    EXPECT_EQ(faults_of("a = 0xF\n", plain), "");
    const auto brackets = [](std::size_t n, const std::string& inner) {
        return "a = " + std::string(n, '[') + inner + std::string(n, ']') + "\n";
    };
    EXPECT_EQ(faults_of(brackets(12, "1")), "");
    EXPECT_NE(faults_of(brackets(13, "1")).find("nested more than 12 deep"), std::string::npos);
    EXPECT_NE(faults_of(brackets(100000, "")).find("nested more than 12 deep"), std::string::npos);
    EXPECT_EQ(faults_of("a.b.c.d.e.f.g.h.i.j.k.l = 1\n"), "");
    EXPECT_NE(faults_of("a.b.c.d.e.f.g.h.i.j.k.l.m = 1\n").find("of more than 12 parts"), std::string::npos);
    EXPECT_EQ(faults_of("a = 0." + std::string(62, '1') + "\n"), "");
    EXPECT_NE(faults_of("a = 0." + std::string(63, '1') + "\n"), "");
}

// No text, however damaged, is read past its end, and every place is in it.
TEST(TomlFaults, PlacesOfDamagedTextsAreInThem) {
    test::Random random(7);
    for (int i = 0; i < 20000; ++i) {
        const std::string text = test::damaged(random, test::text_of_statements(random, 1 + i % 6));
        const auto document = Document::parse(text);
        ASSERT_EQ(document.text(), text);
        for (const auto& wrong : document.faults()) {
            ASSERT_LE(wrong.at.byte, text.size());
            const Place place = document.place_of(wrong.at.byte);
            ASSERT_EQ(place.line, wrong.at.line) << text;
            ASSERT_EQ(place.column, wrong.at.column) << text;
            ASSERT_FALSE(wrong.text.empty());
        }
    }
}

}  // namespace
}  // namespace seatwright::toml
