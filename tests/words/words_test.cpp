// Sentences: what a place in a template is, how figures and lists are said, and that a catalogue says all.
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "seatwright/words/english_hold.hpp"
#include "seatwright/words/english_lists.hpp"
#include "spoken.hpp"

namespace seatwright {
namespace {

using words::Catalogue, words::Line;

TEST(Words, EnglishNamesEveryIdOnceAndParsesToTheEnd) {
    const auto& lines = words::english().lines();
    EXPECT_GT(lines.size(), 300U);
    EXPECT_TRUE(words::faults_of(lines).empty());
    for (const Line& line : lines) {
        EXPECT_NE(line.id.find('.'), std::string_view::npos) << line.id;
        EXPECT_FALSE(line.text.empty()) << line.id;
        // A brace that opens a word and is no place is a slip of the pen.
        for (std::size_t at = line.text.find('{'); at != std::string_view::npos;
             at = line.text.find('{', at + 1)) {
            const bool place = words::next_place(line.text, at).from == at;
            const bool plain =
                line.id == "list.more" || (at + 1 < line.text.size() && line.text[at + 1] == ' ');
            EXPECT_TRUE(place || plain) << line.id << ": " << line.text;
        }
    }
}

// What is said is read at a terminal and in a browser alike: no sentence names an option of the command line.
TEST(Words, NoSentenceNamesAnOptionOfTheCommandLine) {
    for (const Line& line : words::english().lines())
        EXPECT_EQ(line.text.find("--"), std::string_view::npos) << line.id << ": " << line.text;
}

TEST(Words, AFigureIsSaidInTheUnitAsked) {
    struct Case {
        Figure figure;
        const char *mm, *inch;
    };
    const std::array cases{
        Case{as_length(0.31), "0.310 mm", "0.0122 in"},
        Case{as_length_up(0.3101), "0.311 mm", "0.0123 in"},
        Case{as_length_up(0.31), "0.310 mm", "0.0123 in"},
        Case{as_trim(0.035), "+0.0350", "+0.0014"},
        Case{as_depth(20.32), "20.3 mm", "0.80 in"},
        Case{as_place(447), "447.00 mm", "17.598 in"},
        Case{as_fine(0.0123), "0.0123 mm", "0.00048 in"},
        Case{as_length_below(0.00129), "0.0012 mm", "0.000050 in"},
        Case{as_angle(rad(19.5)), "19.50 deg", "19.50 deg"},
        Case{as_angle(rad(0.0123)), "0.0123 deg", "0.0123 deg"},
        Case{as_form_angle(rad(43.5)), "43.5 deg", "43.5 deg"},
        Case{as_degrees(rad(-0.004), 2), "0.00 deg", "0.00 deg"},
        Case{as_length(-0.0004), "0.000 mm", "0.0000 in"},
        Case{as_length(-0.0006), "-0.001 mm", "0.0000 in"},
        Case{as_angle(rad(-1e-7)), "0.00 deg", "0.00 deg"},
        Case{as_trim(-0.00001), "-0.0000", "-0.0000"},
        Case{as_mass(21), "21 kg", "21 kg (46 lb)"},
        Case{as_vacuum(81.3), "81.3 kPa", "24.0 inHg"},
        // 31 m/min = 101.7 ft/min; 1 lbf·ft = 1.3558 N·m; 1 psi = 6894.76 Pa (NIST SP 811).
        Case{as_surface_speed(31), "31 m/min", "102 ft/min"},
        Case{as_torque(4200), "4.2 N·m", "3.1 lbf·ft"},
        Case{as_pressure(310), "310 MPa", "44962 psi"},
        Case{as_volume(500), "0.50 cm3", "0.50 cm3"},
        Case{as_percent(99.1234, 2), "99.12 %", "99.12 %"},
        Case{as_number(2.5, 2), "2.50", "2.50"},
    };
    for (const Case& c : cases) {
        EXPECT_EQ(written(c.figure, LengthUnit::mm), c.mm);
        EXPECT_EQ(written(c.figure, LengthUnit::inch), c.inch);
    }
}

Sentence called(std::string_view key) {
    return words::sentence<"text">("text"_is = "<" + std::string(key) + ">");
}

// Where the file has a line to write, a page has a button; where it has a key, a label.
TEST(Words, APageSaysWhatTheFileSaysInItsOwnWords) {
    constexpr std::array table{
        Line{"t.frees", "turn it by {by}; or {allow}", "turn it by {by}, or a lead lets it pass"},
        Line{"t.needs", "{key} is missing"}};
    std::vector<Line> lines = words::english().lines();
    lines.insert(lines.end(), table.begin(), table.end());
    const Catalogue catalogue(lines);
    const Speech file{LengthUnit::mm, &catalogue}, page{LengthUnit::mm, &catalogue, called};
    const Sentence frees("t.frees", {{"by", as_angle(rad(19.5))}, {"allow", "allow = []"}});
    EXPECT_EQ(in_words(frees, file), "turn it by 19.50 deg; or allow = []");
    EXPECT_EQ(in_words(frees, page), "turn it by 19.50°, or a lead lets it pass");
    const Sentence needs("t.needs", {{"key", Key{"depth.block"}}});
    EXPECT_EQ(in_words(needs, file), "depth.block is missing");
    EXPECT_EQ(in_words(needs, page), "<depth.block> is missing");
    EXPECT_FALSE(file.on_page());
}

TEST(Words, ListsAreJoinedAsTheLanguageJoinsThem) {
    const auto said = [](Join join, std::vector<std::string> names) {
        return in_words(Part(list_of(names, join)), Speech{});
    };
    EXPECT_EQ(said(Join::with_and, {"1I"}), "1I");
    EXPECT_EQ(said(Join::with_and, {"1I", "2I", "3I"}), "1I, 2I and 3I");
    EXPECT_EQ(said(Join::with_or, {"a", "b"}), "a or b");
    EXPECT_EQ(said(Join::names, {"1", "2", "3", "4", "5", "6", "7", "8"}), "1, 2, 3, 4, 5, 6, 7, 8");
    EXPECT_EQ(said(Join::names, {"1", "2", "3", "4", "5", "6", "7", "8", "9"}),
              "1, 2, 3, 4, 5, 6, 7 and 2 more");
    EXPECT_EQ(said(Join::semicolons, {"a", "b"}), "a; b");
}

TEST(Words, OneAndManyAreToldApart) {
    const auto said = [](std::size_t setups) {
        return spoken(
            hold::sentence<"every-guide-plumb">("worst"_is = as_angle(rad(0.5)), "setups"_is = setups));
    };
    EXPECT_EQ(said(1), "every guide within 0.50 deg of plumb in 1 setup");
    EXPECT_EQ(said(3), "every guide within 0.50 deg of plumb in 3 setups");
}

TEST(Words, ACatalogueThatLacksSomethingIsFoundOut) {
    std::vector<Line> lines = words::english().lines();
    const auto faults = [&] { return words::faults_of(lines); };
    lines.pop_back();
    EXPECT_EQ(faults().size(), 1U);
    lines.push_back({"hold.nothing-of-the-kind", "?"});
    EXPECT_EQ(faults().size(), 2U);
    lines = words::english().lines();
    const auto slip =
        std::find_if(lines.begin(), lines.end(), [](const Line& l) { return l.id == "hold.slip"; });
    slip->text = "setup {setup}: {times} at {slope}";  // forgets what to do
    EXPECT_EQ(faults().size(), 1U);
    slip->text = "setup {setup}: {times} at {slope}; {then} {who}";
    EXPECT_EQ(faults().size(), 1U);
    // What is said to a page otherwise than to the file is so in every language.
    lines = words::english().lines();
    const auto frees =
        std::find_if(lines.begin(), lines.end(), [](const Line& l) { return l.id == "hold.leans-frees"; });
    frees->page = {};
    EXPECT_EQ(faults().size(), 1U);
    frees->page = "{turned} {who}";
    EXPECT_EQ(faults().size(), 1U);
    frees->page = frees->text;
    EXPECT_EQ(faults().size(), 1U);
    frees->page = "{turned}, then";
    EXPECT_TRUE(faults().empty());
}

}  // namespace
}  // namespace seatwright
