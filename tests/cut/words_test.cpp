// Lines of RS-274/NGC against the rules of NISTIR 6556 and the examples its readers quote.
#include <gtest/gtest.h>

#include <string>

#include "seatwright/cut/interpret.hpp"
#include "seatwright/cut/words.hpp"

namespace seatwright::cut {
namespace {

constexpr auto strict = CommentStyle::parentheses_only;

TEST(Words, BlanksAndCaseDoNotCount) {
    // "g0x +0. 12 34y 7" is "g0 x+0.1234 y7" (RS274/NGC overview of a public controller's manual, from NIST).
    const auto line = read_line("g0x +0. 12 34y 7", strict);
    ASSERT_TRUE(line) << line.error();
    ASSERT_EQ(line->words.size(), 3u);
    EXPECT_EQ(line->words[0].letter, 'G');
    EXPECT_EQ(line->words[0].value, 0);
    EXPECT_EQ(line->words[1].letter, 'X');
    EXPECT_NEAR(line->words[1].value, 0.1234, 1e-15);
    EXPECT_EQ(line->words[2].value, 7);
}

TEST(Words, LineNumbers) {
    EXPECT_EQ(read_line("N99999 G1", strict)->number, 99999);
    EXPECT_FALSE(read_line("N000009 G1", strict));  // more than five digits
    EXPECT_FALSE(read_line("N-3 G1", strict));
    EXPECT_FALSE(read_line("N1.5 G1", strict));
    EXPECT_FALSE(read_line("G1 N3", strict));  // the number comes first
    EXPECT_FALSE(read_line("N1 N2 G1", strict));
}

TEST(Words, CommentsCloseAndDoNotNest) {
    EXPECT_EQ(read_line("(one) G1 (two)", strict)->comments.size(), 2u);
    EXPECT_FALSE(read_line("(never closed", strict));
    EXPECT_FALSE(read_line("(one (two))", strict));
    EXPECT_FALSE(read_line("G1 ; aside", strict));
    EXPECT_EQ(read_line("G1 ; aside", CommentStyle::semicolons_too)->comments.at(0), " aside");
}

TEST(Words, WhatIsNotAllowedIsAnError) {
    for (const char* text : {"G", "X", "G1 X", "X--1", "X1-", "X1.2.3", "X.", "/G1 X1", "G1 X#3", "G1 X[1+2]",
                             "E5", "G1 X1 $", "% G1", "X1e3", "G1 \x01", "G1 X\xc3\xa9", "U1", "=", "X+-1"})
        EXPECT_FALSE(read_line(text, strict)) << text;
    EXPECT_TRUE(read_line(std::string(256, ' '), strict));
    EXPECT_FALSE(read_line(std::string(257, ' '), strict));
    EXPECT_TRUE(read_line("", strict));
    EXPECT_TRUE(read_line(" % ", strict)->percent);
    EXPECT_TRUE(read_line("G1 X1\r", strict));
    for (const char* text : {"X.5", "X-.5", "X5.", "X+5"}) EXPECT_TRUE(read_line(text, strict)) << text;
}

std::string fault_of(const std::string& program, const job::Dialect& dialect = {}) {
    const auto steps = interpret(program, dialect);
    return steps ? "" : steps.error().text;
}

TEST(Interpret, OneWordOfAModalGroupALine) {
    EXPECT_EQ(fault_of("G21 G90 G94\nG0 Z5\nM2\n"), "");
    EXPECT_NE(fault_of("G20 G21\nM2\n"), "");
    EXPECT_NE(fault_of("G90 G91\nM2\n"), "");
    EXPECT_NE(fault_of("G17 G18\nM2\n"), "");
    EXPECT_NE(fault_of("G0 G1 X1 F5\nM2\n"), "");
    EXPECT_NE(fault_of("S5 M3 M5\nM2\n"), "");
    EXPECT_NE(fault_of("M2 M30\n"), "");
    EXPECT_NE(fault_of("G0 X1 X2\nM2\n"), "");
    EXPECT_NE(fault_of("F1 F2\nM2\n"), "");
}

TEST(Interpret, WhatASeatProgramHasNoUseForIsRefused) {
    for (const char* block :
         {"G2 X1 Y1 I1", "G28", "G10 L2 P1 X1", "G92 X0", "G53 G0 Z0", "G43", "G43 H0", "G43 H1.5", "H1",
          "M1", "G41 D1", "G38.2 Z-1 F1", "G0.5 X1", "M48", "M7", "G0 A90", "G64", "M99", "O100"})
        EXPECT_NE(fault_of(std::string(block) + "\nM2\n"), "") << block;
}

TEST(Interpret, ModesMustMakeSense) {
    EXPECT_NE(fault_of("G1 X1\nM2\n"), "");  // no feed
    EXPECT_NE(fault_of("X1\nM2\n"), "");     // no motion
    EXPECT_NE(fault_of("G0\nM2\n"), "");     // no axis
    EXPECT_NE(fault_of("G4\nM2\n"), "");     // no time
    EXPECT_NE(fault_of("G4 P1 X1\nM2\n"), "");
    EXPECT_NE(fault_of("G0 Z5 P1\nM2\n"), "");
    EXPECT_NE(fault_of("M3\nM2\n"), "");  // no speed
    EXPECT_NE(fault_of("S-5 M3\nM2\n"), "");
    EXPECT_NE(fault_of("T1.5 M6\nM2\n"), "");
    EXPECT_NE(fault_of("G91 G0 X1\nM2\n"), "");                   // incremental from nowhere
    EXPECT_NE(fault_of("G0 Z5\n"), "");                           // no end
    EXPECT_NE(fault_of("M2\nG0 Z5\n"), "");                       // after the end
    EXPECT_NE(fault_of("G0 Z5\nG82 X1 Y1 Z-1 R1 F5\nM2\n"), "");  // no dwell
}

TEST(Interpret, UnitsFeedsAndModalMotion) {
    const auto steps = interpret("G20 G90 G94\nG0 X1 Y2 Z3\nF10\nG1 Z0\nX2\nG4 P0.5\nM30\n", {});
    ASSERT_TRUE(steps) << steps.error().text;
    ASSERT_EQ(steps->size(), 5u);
    EXPECT_NEAR(*(*steps)[0].to.x, 25.4, 1e-12);
    EXPECT_EQ((*steps)[2].kind, StepKind::feed);  // G1 stays in force
    EXPECT_NEAR(*(*steps)[2].to.x, 50.8, 1e-12);
    EXPECT_NEAR((*steps)[2].modes.feed, 254.0 / 60, 1e-12);
    EXPECT_NEAR((*steps)[3].seconds, 0.5, 1e-12);
    job::Dialect milliseconds;
    milliseconds.dwell_in_milliseconds = true;
    EXPECT_NEAR(interpret("G4 P500\nM30\n", milliseconds)->front().seconds, 0.5, 1e-12);
}

TEST(Interpret, TheCycleMakesItsMovesInTheLanguagesOrder) {
    const auto steps = interpret("G17 G21 G90 G94\nG0 X0 Y0 Z10\nG82 X5 Y6 Z-1 R2 P0.3 F60\nG80\nM30\n", {});
    ASSERT_TRUE(steps) << steps.error().text;
    // over the place, down to R, feed to Z, dwell, back to the old height (G98 is the default)
    ASSERT_EQ(steps->size(), 7u);
    EXPECT_EQ((*steps)[1].kind, StepKind::rapid);
    EXPECT_EQ(*(*steps)[1].to.z, 10);
    EXPECT_EQ(*(*steps)[2].to.z, 2);
    EXPECT_EQ((*steps)[3].kind, StepKind::feed);
    EXPECT_EQ(*(*steps)[3].to.z, -1);
    EXPECT_EQ((*steps)[4].kind, StepKind::dwell);
    EXPECT_EQ(*(*steps)[5].to.z, 10);
}

job::Dialect with_top() {
    job::Dialect dialect;
    dialect.top = "G53 G0 Z0";
    return dialect;
}

const job::Float words_of_a_float{job::Float::Kind::commanded, "M62 P1", "M63 P1", "M64"};

// The shelf's words are events where a line holds them and nothing else; blanks, case and comments do not
// count.
TEST(Interpret, TheShelfsWordsAreNamedEvents) {
    const auto steps = interpret("G21 G90 G94\ng53g0z0\nG0 Z5\nm62 p1\nM63 P1.0 (locked)\nM64\nM30\n",
                                 with_top(), words_of_a_float);
    ASSERT_TRUE(steps) << steps.error().text;
    ASSERT_EQ(steps->size(), 7u);
    EXPECT_EQ((*steps)[0].event, ControlEvent::top);
    EXPECT_FALSE((*steps)[0].to.z);
    EXPECT_FALSE((*steps)[1].from.z);  // where the top is, Z0 does not say
    EXPECT_EQ((*steps)[2].event, ControlEvent::float_free);
    EXPECT_EQ((*steps)[3].kind, StepKind::comment);
    EXPECT_EQ((*steps)[4].event, ControlEvent::float_lock);
    EXPECT_EQ((*steps)[5].event, ControlEvent::float_centre);
    for (const std::size_t i : {0, 2, 4, 5}) EXPECT_EQ((*steps)[i].kind, StepKind::control) << i;
    // Not alone on its line, half of it, or where the shelf has no such word: refused.
    for (const char* text : {"G53 G0 Z0 X1", "G53 G0 Z1", "M62", "M62 P2", "M62 P1 M64"}) {
        const auto other = interpret(std::string(text) + "\nM30\n", with_top(), words_of_a_float);
        EXPECT_FALSE(other) << text;
    }
    EXPECT_FALSE(interpret("M62 P1\nM30\n", with_top()));
    // A place known before the way to the top is not known after it.
    const auto after = interpret("G21\nG0 Z5\nG53 G0 Z0\nG91 G0 Z1\nM30\n", with_top());
    ASSERT_FALSE(after);
    EXPECT_EQ(after.error().line, 4);
    // Which motion is in force then, the program says anew.
    EXPECT_FALSE(interpret("G21\nG0 Z5\nG53 G0 Z0\nZ1\nM30\n", with_top()));
}

TEST(Interpret, OneWordThatCentresAndLocksIsBoth) {
    const auto steps =
        interpret("M64\nM30\n", {}, job::Float{job::Float::Kind::commanded, "M62 P1", "M64", "M64"});
    ASSERT_TRUE(steps);
    EXPECT_EQ((*steps)[0].event, ControlEvent::float_centre);
    EXPECT_EQ((*steps)[1].event, ControlEvent::float_lock);
}

TEST(Interpret, WordsNoProgramMayCarryAreRefusedWithTheirKey) {
    const auto blamed = [](const job::Dialect& dialect, const std::optional<job::Float>& tool_float = {}) {
        const auto steps = interpret("G0 Z5\nM30\n", dialect, tool_float);
        return steps ? std::string() : steps.error().text.substr(0, steps.error().text.find(':'));
    };
    job::Dialect dialect;
    dialect.top = "G91 G28 Z0";
    EXPECT_EQ(blamed(dialect), "dialect.top");
    dialect = {};
    dialect.tool_change = "M6 G43 H1";
    EXPECT_EQ(blamed(dialect), "dialect.tool_change");
    dialect = {};
    dialect.program_end = "G20 M30";
    EXPECT_EQ(blamed(dialect), "dialect.program_end");
    EXPECT_EQ(blamed({}, job::Float{job::Float::Kind::commanded, "hand", "G18", "self"}),
              "machine.float.lock");
    EXPECT_EQ(blamed({}, job::Float{job::Float::Kind::commanded, "hand", "hand", "M64 G55"}),
              "machine.float.centre");
}

TEST(Interpret, LengthOffsetsAreHeldAndMoveZ) {
    const auto steps =
        interpret("G21 G90 G94 G49\nG43 H2 G0 Z5\nG43 H2 G0 Z6\nG43 H3\nG0 Z7\nG49\nM30\n", {});
    ASSERT_TRUE(steps) << steps.error().text;
    ASSERT_EQ(steps->size(), 4u);
    EXPECT_EQ((*steps)[0].modes.length_offset, 2);
    EXPECT_EQ((*steps)[1].from.z, 5);
    EXPECT_FALSE((*steps)[2].from.z);  // the same spindle height, another Z
    EXPECT_EQ((*steps)[3].modes.length_offset, 0);
}

TEST(Interpret, TheDialectsChangeAndEnd) {
    job::Dialect dialect;
    dialect.tool_change = "M101";
    dialect.program_end = "M5 M30";
    const auto steps = interpret("S100 M3\nT4 M101\nM0\nM5 M30\n", dialect);
    ASSERT_TRUE(steps) << steps.error().text;
    ASSERT_EQ(steps->size(), 5u);
    EXPECT_EQ((*steps)[1].kind, StepKind::tool_change);
    EXPECT_EQ((*steps)[1].modes.tool, 4);
    EXPECT_EQ((*steps)[2].kind, StepKind::stop);
    EXPECT_EQ((*steps)[4].kind, StepKind::end);
    EXPECT_EQ((*steps)[4].modes.spindle, Spindle::off);
    // A halt that is also the word of a change is one with T before it, the other without.
    dialect.tool_change = "M0";
    const auto halts = interpret("T4 M0\nM0\nM5 M30\n", dialect);
    ASSERT_TRUE(halts) << halts.error().text;
    EXPECT_EQ((*halts)[0].kind, StepKind::tool_change);
    EXPECT_EQ((*halts)[1].kind, StepKind::stop);
}

}  // namespace
}  // namespace seatwright::cut
