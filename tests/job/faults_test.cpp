// Each kind of fault: its line, its key, and a sentence that says what would be right.
#include <gtest/gtest.h>

#include <algorithm>

#include "changed.hpp"
#include "job/full_job.hpp"
#include "seatwright/job/key_tree.hpp"
#include "seatwright/job/needs.hpp"
#include "seatwright/job/reader.hpp"

namespace seatwright::job {
namespace {

Faults faults_of(const std::string& text, const std::string& shop = "") {
    const auto fetch = [&](const std::string& path) -> tl::expected<std::string, std::string> {
        if (path == "absent.toml") return tl::unexpected(std::string("no such file"));
        return shop;
    };
    const auto job = read_job(text, "j.toml", fetch);
    return job ? Faults{} : job.error();
}

std::string lines_of(const Faults& faults) {
    std::string out;
    for (const auto& f : faults) out += to_line(f) + "\n";
    return out;
}

// Replaces the first occurrence in the full job.
std::string changed(const std::string& from, const std::string& to) {
    return fixtures::changed(test::full_job, from, to);
}

int line_in(const std::string& text, const std::string& piece) {
    const auto at = text.find(piece);
    EXPECT_NE(at, std::string::npos) << piece;
    return 1 +
           static_cast<int>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(at), '\n'));
}

struct Slip {
    const char* from;  // in the full job
    const char* to;
    const char* key;   // blamed
    const char* says;  // part of the sentence
};

TEST(Faults, EachSlipIsOneFaultAtItsLine) {
    const Slip slips[] = {
        {"mass = \"21 kg\"", "mass = \"21 mm\"", "head.mass", "kg, g, lb, oz"},
        {"mass = \"21 kg\"", "mass = -21", "head.mass", "above 0"},
        {"mass = \"21 kg\"", "mass = true", "head.mass", "a mass as a number in kg"},
        {"mass = \"21 kg\"", "mass = nan", "head.mass", "not a finite number"},
        {"mass = \"21 kg\"", "mass = inf", "head.mass", "not a finite number"},
        {"mass = \"21 kg\"", "mass = 1e300", "head.mass", "too large"},

        {"mass = \"21 kg\"", "mas = \"21 kg\"", "head.mas", "did you mean \"mass\"?"},
        {"mass = \"21 kg\"", "stem_spread = 1", "head.stem_spread", "belongs in [depth]"},
        {"stem_height = 47.9", "below_deck = 1.2", "reading.proof[0].below_deck",
         "belongs in [[reading.seat]] or [[reading.first]]"},
        {"mirror = \"none\"", "mirror = \"z\"", "head.mirror", "\"none\", \"x\", \"y\""},
        {"datum = \"1I\"", "datum = \"9I\"", "head.datum", "its valves are 1I, 1E"},
        {"posts = [0, 2]", "posts = [0, 6]", "head.posts", "counted 0 to 5"},
        {"posts = [0, 2]", "posts = [2, 2]", "head.posts", "one hole twice"},
        {"posts = [0, 2]", "posts = [0, 1, 2]", "head.posts", "a list of 3"},
        {"cylinders = 2", "cylinders = 1000000000", "head.pattern.cylinders", "at most 32"},
        {"cylinders = 2", "cylinders = 0", "head.pattern.cylinders", "at least 1"},
        {"cylinders = 2", "cylinders = 2.5", "head.pattern.cylinders", "a whole number"},
        {"bore_spacing = 112", "", "head.pattern.bore_spacing", "is missing"},
        {"bore_spacing = 112", "bore_spacing = \"112 kg\"", "head.pattern.bore_spacing", "unit of a mass"},
        {"kind = \"exhaust\"\nx = 200", "kind = \"inlet\"\nx = 200", "head.valve[0].kind",
         "\"intake\", \"exhaust\""},
        {"incline = 10", "incline = 80", "head.valve[0].incline", "below 80 deg"},
        {"incline = 10", "incline = \"-1.5 rad\"", "head.valve[0].incline", "above -80 deg"},
        {"angle = 45\nwidth = 1.8", "angle = 85\nwidth = 1.8", "seat.exhaust.angle", "below 80 deg"},
        {"head_diameter = 38.1", "head_diameter = 38100000", "valve.exhaust.head_diameter",
         "longer than 100 m"},
        {"head_diameter = 38.1", "", "valve.exhaust.head_diameter", "is missing"},
        {"inset = 0.5", "inset = 0.5\ncontact_diameter = 40", "seat.intake.contact_diameter",
         "one of the two"},
        {"contact_diameter = 37.1", "contact_diameter = 39.1", "seat.exhaust.contact_diameter",
         "wider than the valve"},
        {"width = 1.8\n", "width = 30\n", "seat.exhaust.width", "must stay open"},
        {"{ angle = 15, width = 0.5 }", "{ angle = 30, width = 0.5 }", "seat.intake.top[1]",
         "flatten outward"},
        {"{ angle = 60, width = 1.2 } ]", "{ angle = 40, width = 1.2 } ]", "seat.intake.throat[0]",
         "steepen inward"},
        {"{ angle = 60, width = 1.2 } ]", "{ angle = 60, width = 40 } ]", "seat.intake.throat",
         "inside the stem"},
        {"inside = 36", "inside = 49", "seat.intake.insert", "inside out"},
        {"inside = 36", "inside = 44", "seat.intake.insert", "the seat lies in the throat"},
        {"outside = 48", "outside = 43", "seat.intake.insert", "not above the contact diameter"},
        {"stem_height_max = 48.5", "stem_height_max = 47", "seat.intake.stem_height_max",
         "below stem_height"},
        {"bore_max = 8.83", "bore_max = 8.03", "guide.intake.bore_max", "below the bore"},
        {"mouth = 9.5", "mouth = 8.5", "guide.intake.mouth", "chamfer"},
        {"cut_allowed = true", "cut_allowed = \"yes\"", "seat.intake.cut_allowed", "true or false"},
        {"enter_target = 0.999", "enter_target = 1", "find.enter_target", "below 1"},
        {"x_sign = 1", "x_sign = 2", "machine.x_sign", "\"1\", \"-1\""},
        {"rpm_max = 1500", "rpm_max = 50", "machine.rpm_max", "below rpm_min"},
        {"tilt = [\"-30 deg\", \"50 deg\"]", "tilt = [50, -30]", "fixture.tilt", "greater value first"},
        {"tip = 8.4", "tip = 9", "pilot[0].tip", "wider than the pilot"},
        {"style = \"fixed\"", "style = \"live\"", "pilot[0].taper", "parallel"},
        {"{ angle = 45, width = 1.8 }", "{ angle = 61, width = 1.8 }", "cutter[0].facets[1]",
         "steep to flat"},
        {"blades = 1", "blades = 0", "cutter[0].blades", "at least 1"},
        {"valve = \"?\"\n", "valve = \"7Z\"\n", "reading.touch[1].valve", "its valves are"},
        {"valve = \"1I\"\nacross", "valve = \"?\"\nacross", "reading.level[0].valve",
         "no valve of this head"},
        {"top = 8.75", "", "reading.guide[0].top", "is missing"},
        {"section = [[19, -1], [20, 0], [21, 1]]", "section = [[19, -1]]", "reading.seat[0].section",
         "at least 2"},
        {"section = [[19, -1], [20, 0], [21, 1]]", "section = [[19, -1], [21]]", "reading.seat[0].section[1]",
         "a list of 1"},
        {"-0.02, -0.01, 0]", "-0.02]", "reading.proof[0]", ""},
        {"225, 270, 315]", "225]", "reading.proof[0].angles", "6 angles for 8 readings"},
        {"vacuum = \"25 inHg\"", "vacuum = \"25 mm\"", "reading.proof[0].vacuum", "kPa, inHg"},
        {"material = \"grey iron\"\nmass", "material = [1]\nmass", "head.material", "a text in quotes"},
    };
    for (const auto& slip : slips) {
        const std::string text = changed(slip.from, slip.to);
        const auto faults = faults_of(text);
        ASSERT_FALSE(faults.empty()) << slip.to;
        const auto& f = faults.front();
        EXPECT_TRUE(f.key.starts_with(slip.key)) << slip.to << "\n" << lines_of(faults);
        EXPECT_NE(f.text.find(slip.says), std::string::npos) << slip.to << "\n" << lines_of(faults);
        EXPECT_EQ(f.file, "j.toml");
        EXPECT_GT(f.line, 0) << slip.to;
        EXPECT_LE(faults.size(), 2u) << lines_of(faults);
    }
}

TEST(Faults, NameTheExactLine) {
    const std::string text = changed("rpm_max = 1500", "rpm_max = \"fast\"");
    const auto faults = faults_of(text);
    ASSERT_EQ(faults.size(), 1u) << lines_of(faults);
    EXPECT_EQ(faults[0].line, line_in(text, "rpm_max"));
    // In a list over several lines, the line of the entry.
    const std::string pattern = changed("cant = -1 } ]", "cant = \"x\" } ]");
    EXPECT_EQ(faults_of(pattern)[0].line, line_in(pattern, "cant = \"x\""));
    EXPECT_EQ(faults_of(pattern)[0].key, "head.pattern.valve[1].cant");
    EXPECT_EQ(to_line(faults[0]).substr(0, 11), "j.toml:" + std::to_string(faults[0].line) + ": ");
}

TEST(Faults, AllAreToldAtOnceFromBothFiles) {
    const std::string text =
        "units = \"mm\"\nshop = \"s.toml\"\nmachine = \"big\"\n[head]\nmass = -1\nmasss = "
        "1\n[[head.valve]]\nid = \"1I\"\nkind = 3\n";
    const std::string shop =
        "units = \"in\"\n[[machine]]\nname = \"small\"\npowr = 1\n[[fixture]]\nname = \"f\"\ntilt = "
        "3\n[head]\n";
    const auto faults = faults_of(text, shop);
    const std::string all = lines_of(faults);
    for (const char* part :
         {"j.toml:3: machine: \"big\" is not on the shelf; there: \"small\"",
          "j.toml:5: head.mass: ", "j.toml:6: head.masss: ", "j.toml:7: head.valve[0].x: is missing",
          "j.toml:9: head.valve[0].kind: is a whole number",
          "s.toml:4: machine[0].powr: is not a key known here; did you mean \"power\"?",
          "s.toml:7: fixture[0].tilt: ", "s.toml:8: head: belongs in the job file"})
        EXPECT_NE(all.find(part), std::string::npos) << part << "\n--\n" << all;
    EXPECT_EQ(faults.size(), 8u) << all;
    // The job's first, each file's by line.
    for (std::size_t i = 1; i < faults.size(); ++i)
        EXPECT_TRUE(faults[i].file != faults[i - 1].file || faults[i].line >= faults[i - 1].line);
}

TEST(Faults, MissingUnitsAndMissingHead) {
    const auto faults = faults_of("title = \"x\"\n");
    ASSERT_EQ(faults.size(), 2u) << lines_of(faults);
    EXPECT_EQ(faults[0].key, "units");
    EXPECT_EQ(faults[0].line, 1);
    EXPECT_EQ(faults[1].key, "head");
    EXPECT_EQ(faults_of("units = \"mm\"\n[head]\n")[0].text,
              "has no valve; give [head.pattern] or [[head.valve]]");
}

// A bracket that is not closed swallows what follows it: which table those keys are of nobody knows, and what
// the table of keys makes of them is not told. From the next header on all is.
TEST(Faults, WhatAnOpenBracketSwallowsIsNotToldOf) {
    for (const char* open : {"x = [1, 2\n", "sure = [\"a\",\nx = 4\ny = 3\n",
                             "obstacle = [ { name = \"a\",\n x = 4, y = 2 },\n { name = \"b\" } ]\n",
                             "title = \"\"\"long\nx = 4\n"}) {
        const auto faults = faults_of(open);
        ASSERT_FALSE(faults.empty()) << open;
        for (const Fault& fault : faults) EXPECT_EQ(fault.key, "TOML") << open << fault.text;
    }
    const std::string after = lines_of(faults_of("sure = [\"a\",\nx = 4\n[head]\nnames = \"n\"\n"));
    EXPECT_EQ(after.find("belongs in"), std::string::npos) << after;
    EXPECT_NE(after.find("j.toml:4: head.names: "), std::string::npos) << after;
    // A slip within its line swallows nothing.
    const std::string line = lines_of(faults_of("sure = [1 2]\nx = 4\n"));
    EXPECT_NE(line.find("j.toml:2: x: "), std::string::npos) << line;
}

TEST(Faults, DuplicatesAreTold) {
    EXPECT_NE(lines_of(faults_of(test::full_job + "[[head.valve]]\nid = \"X1\"\nkind = \"intake\"\nx = 1\n"))
                  .find("listed twice"),
              std::string::npos);
    EXPECT_NE(lines_of(faults_of(test::full_job + "[[pilot]]\nname = \"8.73\"\ndiameter = 8.7\n"))
                  .find("listed twice"),
              std::string::npos);
    EXPECT_NE(
        lines_of(faults_of(test::full_job + "[[material]]\nname = \"grey iron\"\n")).find("listed twice"),
        std::string::npos);
    EXPECT_NE(lines_of(faults_of("units = \"mm\"\nunits = \"mm\"\n")).find("j.toml:2: TOML: "),
              std::string::npos);
    // A second touch of one guide is no fault.
    EXPECT_TRUE(faults_of(test::full_job + "[[reading.touch]]\nvalve = \"1I\"\nx = 0\ny = 0\n").empty());
    // Two valves at one place.
    EXPECT_NE(lines_of(faults_of(test::full_job +
                                 "[[head.valve]]\nid = \"X2\"\nkind = \"intake\"\nx = 200\nz = -3\n"))
                  .find("at one place"),
              std::string::npos);
}

TEST(Faults, ShopThatCannotBeRead) {
    const auto faults = faults_of(
        "units = \"mm\"\nshop = \"absent.toml\"\n[head]\n[[head.valve]]\nid = 1\nkind = \"intake\"\nx = 0\n");
    ASSERT_EQ(faults.size(), 1u);
    EXPECT_EQ(to_line(faults[0]), "j.toml:2: shop: \"absent.toml\" cannot be read: no such file");
}

TEST(Faults, SeveralOnTheShelfMustBeNamed) {
    const std::string shop = "[[fixture]]\nname = \"a\"\n[[fixture]]\nname = \"b\"\n";
    const auto faults = faults_of(
        "units = \"mm\"\nshop = \"s\"\n[head]\n[[head.valve]]\nid = 1\nkind = \"intake\"\nx = 0\n", shop);
    ASSERT_EQ(faults.size(), 1u) << lines_of(faults);
    EXPECT_EQ(faults[0].key, "fixture");
    EXPECT_NE(faults[0].text.find("name one of \"a\", \"b\""), std::string::npos);
}

TEST(Faults, GuardsOnSize) {
    EXPECT_NE(lines_of(faults_of(std::string(max_file_bytes + 1, '#'))).find("16 MiB"), std::string::npos);
    std::string heads = "units = \"mm\"\n[head]\n[[head.valve]]\nid = 1\nkind = \"intake\"\nx = 0\n";
    for (int i = 0; i <= static_cast<int>(max_heads); ++i)
        heads += "[[reading.touch]]\nhead = " + std::to_string(i) + "\nvalve = 1\nx = 0\ny = 0\n";
    EXPECT_NE(lines_of(faults_of(heads)).find("names 10001 heads; at most 10000"), std::string::npos);
    const std::string pattern =
        "units = \"mm\"\n[head.pattern]\ncylinders = 32\nbore_spacing = 9\nvalve = [ ";
    std::string five;
    for (int i = 0; i < 5; ++i) five += "{ kind = \"intake\", x = " + std::to_string(i) + " }, ";
    EXPECT_NE(lines_of(faults_of(pattern + five + "]\n")).find("makes 160 valves; a head has at most 128"),
              std::string::npos);
    std::string valves = "units = \"mm\"\n[head]\n";
    for (int i = 0; i < 129; ++i)
        valves += "[[head.valve]]\nid = \"v" + std::to_string(i) +
                  "\"\nkind = \"intake\"\nx = " + std::to_string(i) + "\n";
    EXPECT_NE(lines_of(faults_of(valves)).find("lists 129 valves"), std::string::npos);
    // Thousands of faults end in a count.
    std::string many = "units = \"mm\"\n";
    for (int i = 0; i < 1000; ++i) many += "k" + std::to_string(i) + " = 1\n";
    EXPECT_EQ(faults_of(many).size(), 201u);
}

TEST(Faults, TextTheParserMustNotSee) {
    const std::pair<std::string, std::string> cases[] = {
        {"units = \"mm\"\na = \u00e9\n", "j.toml:2: TOML: \"\u00e9\" stands outside quotes"},
        {"\u00fc = 1\n", "j.toml:1: TOML: \"\u00fc\" stands outside quotes"},
        {"# fine \u00e9\nb = \"fine \u00e9\"\nc\u00a0= 1\n", "j.toml:3: TOML: "},
        {"a = 1\n# \xff\n", "j.toml:2: TOML: byte 0xFF is not UTF-8"},
        {"a = \"\xed\xa0\x80\"\n", "not UTF-8"},
        {"a = \"\xc0\xaf\"\n", "not UTF-8"},
        {std::string("a = \"x\0y\"\n", 10), "control byte 0x00"},
        {"a = " + std::string(300, '[') + "\n", "nested more than"},
        {"a" +
             [] {
                 std::string s;
                 for (int i = 0; i < 300; ++i) s += ".a";
                 return s;
             }() +
             " = 1\n",
         "dotted key of more than"},
        {"[=]\n", "j.toml:1: TOML: = stands where the name of a table, [name] or [[name]], is wanted"},
        {"[", "the line ends where the name of a table"},
        {"[[a]\n", "the line ends where ]] is wanted"},
        {"a = 2'''\u00e9'\n", "j.toml:1: TOML: ' stands where the end of the value is wanted"},
        {"a = \n", "j.toml:1: TOML: the line ends where a value is wanted"},
        {"a = 1979-05-27\n", "1979-05-27 is neither a number nor true or false"},
        {"a = 07:32:00\n", "put texts and units in quotes"},
        {"a = 5 mm\n", "m stands where the end of the line is wanted"},
        {"a = 5mm\n", "5mm is neither a number"},
        {"a = 01\n", "01 is neither a number"},
        {"a = [1, 2\nb = 3\n", "j.toml:2: TOML: b stands where a comma or ] is wanted"},
        {"a = [1,\n", "a list is not closed"},
        {"a = { b = 1, }\n", "} stands where a key is wanted"},
        {"a = \"x\nb = 1\n", "j.toml:1: TOML: a text is not closed"},
        {"a = \"\\x\"\n", "for the backslash itself"},
        {"a = \"\\uD800\"\n", "no character of Unicode"},
        {"a = 1\rb = 2\n", "control byte 0x0D"},
        {"a b = 1\nc = \u00e9\nd = 1\ne = ?\n", "j.toml:4: TOML: ? stands where a value"},
    };
    for (const auto& [text, part] : cases) {
        const auto all = lines_of(faults_of(text));
        EXPECT_NE(all.find(part), std::string::npos) << part << "\n--\n" << all;
    }
}

TEST(Faults, NearestNames) {
    EXPECT_EQ(nearest_name("head_diametre", {"head_diameter", "margin"}), "head_diameter");
    EXPECT_EQ(nearest_name("margn", {"head_diameter", "margin"}), "margin");
    EXPECT_EQ(nearest_name("witdh", {"angle", "width"}), "width");
    EXPECT_EQ(nearest_name("zebra", {"head_diameter", "margin"}), "");
    EXPECT_EQ(nearest_name(std::string(1000, 'x'), {"xx"}), "");
}

Job smallest(const std::string& more = "") {
    auto job = read_job("units = \"mm\"\n[head]\n[[head.valve]]\nid = 1\nkind = \"intake\"\nx = 0\n" + more,
                        "j.toml", {});
    EXPECT_TRUE(job) << lines_of(job ? Faults{} : job.error());
    return job.value_or(Job{});
}

TEST(Needs, EachStageAsksForItsOwn) {
    const auto keys = [](const Faults& faults) {
        std::string out;
        for (const auto& f : faults) out += f.key + " ";
        return out;
    };
    EXPECT_EQ(keys(needs(smallest(), Stage::hold)), "fixture ");
    EXPECT_EQ(keys(needs(smallest("[fixture]\ntilt = [0, 10]\n"), Stage::hold)), "");
    EXPECT_EQ(keys(needs(smallest(), Stage::find)), "");
    EXPECT_EQ(keys(needs(smallest(), Stage::prove)), "");
    EXPECT_EQ(keys(needs(smallest(), Stage::shape)), "valve.intake seat.intake ");
    EXPECT_EQ(keys(needs(smallest("[seat.intake]\nmaterial = \"m\"\n"), Stage::shape)),
              "valve.intake seat.intake.angle seat.intake.width seat.intake.inset ");
    EXPECT_EQ(keys(needs(smallest(), Stage::cut)), "seat.intake.material machine.rpm_max ");
    const Job gaps = smallest(
        "[seat.intake]\nmaterial = \"m\"\n[[material]]\nname = \"m\"\nmc = 0.2\n[machine]\nrpm_max = 9\n");
    const auto faults = needs(gaps, Stage::cut);
    ASSERT_EQ(faults.size(), 1u);
    EXPECT_EQ(faults[0].line, 8);
    EXPECT_NE(faults[0].text.find("speed, feed, kc11"), std::string::npos);
    EXPECT_EQ(stage_named("shape"), Stage::shape);
    EXPECT_EQ(name_of(Stage::prove), "prove");
    EXPECT_THROW(stage_named("lunch"), std::logic_error);
}

}  // namespace
}  // namespace seatwright::job
