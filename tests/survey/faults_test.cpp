// Bad readings: each fault one sentence with its line and key, all of them in one pass.
#include <gtest/gtest.h>

#include <algorithm>

#include "changed.hpp"
#include "spoken.hpp"
#include "survey/simulated.hpp"
#include "survey/surveyed.hpp"

namespace seatwright::survey {
namespace {

// A head of one guide; every case below is one change of it.
const std::string good = R"(units = "mm"
[sensor]
zero = "table"
[[point]]
setup = "A"
tilt = "19.4 deg"
what = "hole"
id = "H1"
ball = 10
diameter = 13.5
x = 0.0
y = 0.0
z = 7.0
[[point]]
setup = "A"
what = "guide"
id = "1I"
x = 40.0
y = 30.0
[[level]]
setup = "A"
what = "guide"
id = "1I"
across = "incline"
first = 0.1
second = 0.1
[[size]]
what = "bore"
id = "1I"
value = 8.02
)";

std::string changed(const std::string& from, const std::string& to) {
    return fixtures::changed(good, from, to);
}

struct Case {
    const char* from;
    const char* to;
    int line;
    const char* key;
    const char* says;
};

class BadReading : public testing::TestWithParam<Case> {};

TEST_P(BadReading, IsOneSentenceWithItsKey) {
    const auto& c = GetParam();
    const auto faults = refused(changed(c.from, c.to));
    ASSERT_EQ(faults.size(), 1u) << words_of(faults);
    EXPECT_EQ(faults[0].line, c.line) << to_line(faults[0]);
    EXPECT_EQ(faults[0].key, c.key) << to_line(faults[0]);
    EXPECT_NE(faults[0].text.find(c.says), std::string::npos) << to_line(faults[0]);
}

INSTANTIATE_TEST_SUITE_P(
    Faults, BadReading,
    testing::Values(
        Case{"units = \"mm\"\n", "", 1, "units", "is missing"},
        Case{"what = \"hole\"", "what = \"bolt\"", 7, "point[0].what", "hole"},
        Case{"tilt = \"19.4 deg\"", "tilt = \"19.4 mm\"", 6, "point[0].tilt", "deg"},
        Case{"diameter = 13.5", "diametr = 13.5", 10, "point[0].diametr", "did you mean \"diameter\""},
        Case{"diameter = 13.5\n", "", 4, "point[0].diameter", "is missing"},
        Case{"ball = 10\n", "", 4, "point[0].ball", "ball"},
        Case{"ball = 10", "ball = 6", 9, "point[0].ball", "falls through"},
        Case{"diameter = 13.5", "diameter = 0.53", 10, "point[0].diameter", "in in it would fit"},
        // A hole typed as a guide, three ways.
        Case{"what = \"hole\"\nid = \"H1\"\nball = 10\ndiameter = 13.5", "what = \"guide\"\nid = \"H1\"", 8,
             "point[0].id", "what = \"hole\""},
        Case{"id = \"H1\"", "id = \"1I\"", 14, "point[1].id", "a hole in line 4"},
        Case{"what = \"guide\"\nid = \"1I\"\nx = 40.0", "what = \"guide\"\nid = \"1I\"\nball = 10\nx = 40.0",
             18, "point[1].ball", "belongs to a hole"},
        Case{"[sensor]", "machine = \"long table\"\n[sensor]", 2, "machine", "name no shop"},
        Case{"x = 40.0", "x = nan", 18, "point[1].x", "finite"},
        Case{"first = 0.1", "first = 95", 25, "level[0].first", "80"},
        Case{"id = \"1I\"\nacross", "across", 20, "level[0].id", "is missing"},
        Case{"value = 8.02", "value = 0.315", 30, "size[0].value", "in in it would fit"},
        Case{"value = 8.02", "value = -8", 30, "size[0].value", "above 0"}));

TEST(BadReadings, TheGoodOneIsGood) {
    EXPECT_TRUE(refused(good).empty());
}

TEST(BadReadings, AllFaultsAreToldAtOnce) {
    auto text = changed("what = \"hole\"", "what = \"bolt\"");
    text.replace(text.find("x = 40.0"), 8, "x = true");
    text.replace(text.find("value = 8.02"), 12, "value = 0.315");
    EXPECT_EQ(refused(text).size(), 3u) << words_of(refused(text));
}

TEST(BadReadings, AnEmptyFileAndOneOfSomethingElse) {
    const auto empty = refused("units = \"mm\"\n");
    ASSERT_EQ(empty.size(), 1u);
    EXPECT_EQ(empty[0].key, "point");
    EXPECT_FALSE(refused("").empty());
    // A drawing, a job, a picture.
    EXPECT_FALSE(refused("0\nSECTION\n2\nHEADER\n9\n$ACADVER\n").empty());
    const auto job =
        refused("units = \"mm\"\n[head.pattern]\ncylinders = 4\n[valve.intake]\nhead_diameter = 40\n");
    EXPECT_EQ(job.size(), 2u) << words_of(job);
    EXPECT_FALSE(refused(std::string("\x89PNG\r\n\x1a\n\0\0", 10)).empty());
}

// More than one reading in ten wrong: which are right cannot be told.
TEST(BadReadings, ContradictionsAreRefusedEachWithItsLine) {
    simulated::Normal normal(3), wrong(4);
    const simulated::Sds sds;
    const auto head = simulated::head_of(simulated::layouts()[6], sds, normal);
    simulated::Machine machine(head, sds, normal);
    machine.spoil = [&](const std::string&, std::map<std::string, double>& figures) {
        for (auto& [key, value] : figures)
            if (wrong.below(4) == 0) value += wrong(5);
    };
    const auto faults = refused(machine.read({}).text);
    ASSERT_FALSE(faults.empty());
    for (const auto& fault : faults) {
        EXPECT_NE(fault.key, "") << to_line(fault);
        EXPECT_GT(fault.line, 0) << to_line(fault);
        EXPECT_NE(fault.text.find("again, or take the line out"), std::string::npos) << to_line(fault);
    }
}

// The ball's two holes typed once more under a guide's name: the name and the figures are right in form, only
// the head knows better.
TEST(BadReadings, AHoleReadUnderAGuidesNameIsNamedAndNotReported) {
    const simulated::Sds sds;
    for (const char* kind : {"hemispherical", "pent-roof", "wedge"}) {
        simulated::Normal normal(17);
        const auto head = simulated::head_of(simulated::layout(kind), sds, normal);
        simulated::Machine machine(head, sds, normal);
        const std::string wrong = head.guides[head.guides.size() / 2].id;
        std::map<std::string, double> hole;
        machine.spoil = [&](const std::string& line, std::map<std::string, double>& figures) {
            if (line.find("what = \"hole\"") != std::string::npos) hole = figures;
            if (line.find("what = \"guide\"\n") == std::string::npos || figures.count("x") == 0 ||
                line.find("\"" + wrong + "\"") == std::string::npos)
                return;
            for (const char* key : {"x", "y"}) figures[key] = hole[key];
        };
        const auto found = surveyed(machine.read({}).text);
        bool named = false;
        for (const auto& aside : found.aside)
            named = named || spoken(aside.what).find(wrong) != std::string::npos;
        EXPECT_TRUE(named) << kind;
        EXPECT_FALSE(valve(found, wrong).x.value) << kind << ": where the hole is";
        for (const auto& v : found.valves)
            if (v.id != wrong) {
                EXPECT_TRUE(v.whole()) << kind << " " << v.id;
            }
        EXPECT_FALSE(found.missing.empty()) << "what to read again is asked for";
    }
}

}  // namespace
}  // namespace seatwright::survey
