// Changing a job's text: what was asked, and not a byte more.
#include "seatwright/job/editor.hpp"

#include <gtest/gtest.h>

#include <random>

#include "job/full_job.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::job {
namespace {

const std::string sheet =
    "# my job \u00b5\n"
    "units = \"mm\"   # as drawn\n"
    "\n"
    "[head]\n"
    "name = \"h\u00e9\"  # caf\u00e9\n"
    "posts = [ 0, 2 ] # outer\n"
    "obstacle = [ { name = \"plug\", x = 1, y = 2, diameter = 3 }, { x = 4, y = 5, diameter = 6 } ]\n"
    "# about the pattern\n"
    "[head.pattern]\n"
    "cylinders = 2\n"
    "valve = [\n"
    "  { kind = \"intake\", x = 1 },   # first\n"
    "  { kind = \"exhaust\", x = -1 }, # second\n"
    "]\n"
    "\n"
    "[seat.intake] # seats\n"
    "width = 1.5 # wide\n"
    "\n"
    "# readings\n"
    "[[reading.touch]]\n"
    "valve = \"1I\"\n"
    "x = 0\n"
    "[[reading.touch]]\n"
    "valve = \"1E\"\n"
    "x = 1 # last\n"
    "# the end\n";

std::string set(const std::string& path, const std::string& literal, const std::string& text = sheet) {
    const auto out = set_value(text, path, literal);
    EXPECT_TRUE(out) << path << ": " << (out ? "" : out.error());
    return out.value_or("");
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
    const auto at = text.find(from);
    EXPECT_NE(at, std::string::npos) << from;
    return text.replace(at, from.size(), to);
}

TEST(Editor, ReplacesAValueAndNothingElse) {
    EXPECT_EQ(set("units", "\"in\""), replaced(sheet, "\"mm\"", "\"in\""));
    EXPECT_EQ(set("head.name", "\"n\u00e9w\""), replaced(sheet, "\"h\u00e9\"", "\"n\u00e9w\""));
    EXPECT_EQ(set("head.posts", "[1, 3]"), replaced(sheet, "[ 0, 2 ]", "[1, 3]"));
    EXPECT_EQ(set("head.posts[1]", "5"), replaced(sheet, "[ 0, 2 ]", "[ 0, 5 ]"));
    EXPECT_EQ(set("head.obstacle[1].x", "\"4.5 mm\""), replaced(sheet, "x = 4,", "x = \"4.5 mm\","));
    EXPECT_EQ(set("head.pattern.valve[1].x", "-1.25"), replaced(sheet, "x = -1 }", "x = -1.25 }"));
    EXPECT_EQ(set("seat.intake.width", "\"0.06 in\""), replaced(sheet, "1.5 # wide", "\"0.06 in\" # wide"));
    EXPECT_EQ(set("reading.touch[1].x", "1.25"), replaced(sheet, "x = 1 # last", "x = 1.25 # last"));
}

TEST(Editor, AddsKeysWhereTheyBelong) {
    EXPECT_EQ(set("title", "\"t\""), replaced(sheet, "# as drawn\n", "# as drawn\ntitle = \"t\"\n"));
    EXPECT_EQ(set("seat.intake.angle", "45"), replaced(sheet, "# wide\n", "# wide\nangle = 45\n"));
    EXPECT_EQ(set("head.pattern.bore_spacing", "88"),
              replaced(sheet, "# second\n]\n", "# second\n]\nbore_spacing = 88\n"));
    EXPECT_EQ(set("head.obstacle[0].z", "-5"), replaced(sheet, "diameter = 3 }", "diameter = 3, z = -5 }"));
    EXPECT_EQ(set("reading.touch[0].y", "2"), replaced(sheet, "x = 0\n", "x = 0\ny = 2\n"));
    EXPECT_EQ(set("reading.touch[1].y", "2"), replaced(sheet, "# last\n", "# last\ny = 2\n"));
    EXPECT_EQ(set("seat.exhaust.width", "2"), sheet + "\n[seat.exhaust]\nwidth = 2\n");
    EXPECT_EQ(set("units", "\"mm\"", ""), "units = \"mm\"\n");
    EXPECT_EQ(set("a", "1", "[t]\n"), "a = 1\n[t]\n");
    // No line end at the end of the text; Windows line ends.
    EXPECT_EQ(set("b", "2", "a = 1"), "a = 1\nb = 2\n");
    EXPECT_EQ(set("t.b", "2", "[t]\r\na = 1\r\n"), "[t]\r\na = 1\r\nb = 2\r\n");
    // A table that exists only by dotted keys.
    EXPECT_EQ(set("seat.intake.angle", "45", "seat.intake.width = 1\n"),
              "seat.intake.width = 1\nseat.intake.angle = 45\n");
}

TEST(Editor, RefusesWithASentence) {
    for (const auto& [path, literal] :
         std::vector<std::pair<std::string, std::string>>{{"head", "1"},
                                                          {"reading.touch", "[]"},
                                                          {"head.posts[7]", "1"},
                                                          {"units.x", "1"},
                                                          {"reading.touch[9].x", "1"},
                                                          {"head..x", "1"},
                                                          {"", "1"},
                                                          {"head.", "1"},
                                                          {"[0]", "1"},
                                                          {"head.mass", "nonsense"},
                                                          {"head.mass", ""},
                                                          {"head.mass", "1\nx = 2"},
                                                          {"head.mass", "1 kg"},
                                                          {"head.m\u00e4ss", "1"},
                                                          {"nothing[0].x", "1"},
                                                          {"a[99999999999999999999]", "1"}}) {
        const auto out = set_value(sheet, path, literal);
        EXPECT_FALSE(out) << path << " = " << literal << "\n" << out.value_or("");
        if (!out) {
            EXPECT_GT(out.error().size(), 12u);
        }
    }
    EXPECT_FALSE(set_value("a = \n", "a", "1"));
    EXPECT_FALSE(set_value("\u00e9 = 1\n", "a", "1"));
}

TEST(Editor, AppendsTables) {
    const auto out = append_table(sheet, "reading.touch", {{"valve", "\"2I\""}, {"x", "1.5"}, {"y", "0"}});
    ASSERT_TRUE(out) << out.error();
    EXPECT_EQ(*out, sheet + "\n[[reading.touch]]\nvalve = \"2I\"\nx = 1.5\ny = 0\n");
    EXPECT_EQ(*append_table(sheet, "reading.proof", {{"valve", "\"2I\""}}),
              sheet + "\n[[reading.proof]]\nvalve = \"2I\"\n");
    EXPECT_EQ(*append_table(sheet, "head.obstacle", {{"x", "7"}}),
              replaced(sheet, "diameter = 6 } ]", "diameter = 6 }, { x = 7 } ]"));
    EXPECT_FALSE(append_table(sheet, "head", {{"x", "7"}}));
    EXPECT_FALSE(append_table(sheet, "head.name", {{"x", "7"}}));
    EXPECT_FALSE(append_table(sheet, "reading.touch", {{"x", "7"}, {"x", "8"}}));
    EXPECT_FALSE(append_table(sheet, "reading.touch", {{"x = 1\ny", "7"}}));
}

TEST(Editor, Removes) {
    const auto gone = [](const std::string& path) {
        const auto out = remove_value(sheet, path);
        EXPECT_TRUE(out) << path << ": " << (out ? "" : out.error());
        return out.value_or("");
    };
    EXPECT_EQ(gone("head.posts"), replaced(sheet, "posts = [ 0, 2 ] # outer\n", ""));
    EXPECT_EQ(gone("seat.intake.width"), replaced(sheet, "width = 1.5 # wide\n", ""));
    EXPECT_EQ(gone("seat.intake"), replaced(sheet, "[seat.intake] # seats\nwidth = 1.5 # wide\n", ""));
    EXPECT_EQ(gone("reading.touch[0]"), replaced(sheet, "[[reading.touch]]\nvalve = \"1I\"\nx = 0\n", ""));
    EXPECT_EQ(gone("reading.touch[1]"),
              replaced(sheet, "[[reading.touch]]\nvalve = \"1E\"\nx = 1 # last\n", ""));
    EXPECT_EQ(gone("head.obstacle[0].name"), replaced(sheet, "name = \"plug\", ", ""));
    EXPECT_EQ(gone("head.obstacle[0]"),
              replaced(sheet, "{ name = \"plug\", x = 1, y = 2, diameter = 3 }, ", ""));
    EXPECT_EQ(gone("head.obstacle[1]"), replaced(sheet, ", { x = 4, y = 5, diameter = 6 }", ""));
    EXPECT_FALSE(remove_value(sheet, "head.nothing"));
}

// Every number of a whole job, changed one by one and back: the text is the same byte for byte.
TEST(Editor, ThereAndBackIsTheIdentity) {
    int tried = 0;
    for (const char* path :
         {"head.mass", "head.pattern.bore_spacing", "head.pattern.valve[1].cant",
          "valve.intake.head_diameter", "seat.intake.top[0].width", "seat.intake.insert.inside",
          "depth.spring_shims[1]", "find.carry.yaw_sd", "machine.mode.damping", "fixture.tilt[0]",
          "cutter[0].facets[2].angle", "material[0].speed[1]", "reading.seat[0].section[1][0]",
          "reading.proof[0].trace[3]"}) {
        const auto once = set_value(test::full_job, path, "12345.5");
        ASSERT_TRUE(once) << path << ": " << once.error();
        const auto at = once->find("12345.5");
        const std::string old =
            test::full_job.substr(at, test::full_job.size() - (once->size() - at - 7) - at);
        const auto back = set_value(*once, path, old);
        ASSERT_TRUE(back) << path << ": " << back.error();
        EXPECT_EQ(*back, test::full_job) << path;
        ++tried;
    }
    EXPECT_EQ(tried, 14);
}

}  // namespace
}  // namespace seatwright::job
