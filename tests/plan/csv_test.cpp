// A cell of a table that others read: quoted as RFC 4180 asks, and never run by a spreadsheet.
#include "seatwright/report/csv.hpp"

#include <gtest/gtest.h>

namespace seatwright::report {
namespace {

TEST(Csv, ACellIsQuotedWhereItMustBe) {
    EXPECT_EQ(csv_cell("plain"), "plain");
    EXPECT_EQ(csv_cell("a,b"), "\"a,b\"");
    EXPECT_EQ(csv_cell("3\" cutter"), "\"3\"\" cutter\"");
    EXPECT_EQ(csv_cell("two\nlines"), "\"two\nlines\"");
}

TEST(Csv, NoTextIsRun) {
    for (const std::string text :
         {"=1+1", "+cmd", "-cmd", "@sum(a1)", "\tx", "=HYPERLINK(\"x\")", "-1+1", "+-1x"})
        EXPECT_TRUE(csv_cell(text).starts_with("'") || csv_cell(text).starts_with("\"'")) << csv_cell(text);
}

TEST(Csv, AFigureStaysOne) {
    for (const std::string figure : {"-0.0125", "+3", "-1e-6", "12"}) EXPECT_EQ(csv_cell(figure), figure);
}

}  // namespace
}  // namespace seatwright::report
