// Figures that cannot be are asked about: by the table of ranges, and by what does not go together
// (working.md, "Doubts" and the middle column of "What blocks, what asks, what tells").
#include "seatwright/job/doubts.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "../job_fixtures.hpp"
#include "seatwright/job/crossing.hpp"
#include "seatwright/job/keys.hpp"
#include "seatwright/job/reader.hpp"
#include "spoken.hpp"

namespace seatwright::job {
namespace {

// A wedge head in inches, every figure of which can be.
struct Text {
    std::string units = "in";
    std::string z = "-0.35", incline = "19.5", spacing = "4.4";
    std::string more_head;
    std::string guide = "bore = 0.344\nlength = 2.2\nmouth = 0.354\nto_seat = 1.5";
    std::string width = "0.060", stem = "0.3415";
    std::string top;    // before [head]
    std::string after;  // at the end

    std::string text() const {
        return fmt::format(R"(units = "{}"
{}
[head]
name = "wedge"
bolt_holes = [[-2.2, -2.05], [15.4, -2.05], [-2.2, 2.05], [15.4, 2.05]]
bolt_hole_diameter = 0.531
[head.pattern]
cylinders = 4
bore_spacing = {}
valve = [ {{ kind = "exhaust", x = -0.94, y = 0.15, z = {}, incline = {} }},
          {{ kind = "intake", x = 0.94, y = 0.15, z = {}, incline = {} }} ]
{}
[valve.intake]
head_diameter = 1.750
stem_diameter = {}
[valve.exhaust]
head_diameter = 1.5
stem_diameter = 0.341
[seat.intake]
angle = 45
width = {}
inset = 0.015
stem_height = 1.9
[guide.intake]
{}
[guide.exhaust]
bore = 0.344
length = 2.2
mouth = 0.354
to_seat = 1.5
[[pilot]]
name = "F"
diameter = 0.3435
taper = 0.0005
tip = 0.33
{}
)",
                           units, top, spacing, z, incline, z, incline, more_head, stem, width, guide, after);
    }
    Job job() const {
        auto read = read_job(text(), "job.toml", {});
        EXPECT_TRUE(read) << text() << (read ? "" : to_line(read.error().front()));
        return read ? std::move(*read) : Job{};
    }
};

std::vector<Doubt> asked(const Text& text, Stage stage = Stage::hold) {
    const Job job = text.job();
    return doubts_of(job, stage, planned_head(job, {}));
}

TEST(Doubts, NothingIsAskedOfAHeadThatCanBe) {
    for (const Stage stage : {Stage::hold, Stage::shape, Stage::prove})
        EXPECT_TRUE(asked(Text{}, stage).empty()) << spoken(asked(Text{}, stage).front().text);
    EXPECT_TRUE(doubts_of(fixtures::wedge_job(), Stage::hold, "1").empty());
}

TEST(Doubts, AFigureThatFitsTheOtherUnitSaysSo) {
    Text text;
    text.after = "[[reading.touch]]\nhead = \"6\"\nvalve = \"4I\"\nx = 383.012\ny = 0.1\n";
    const auto doubts = asked(text);
    ASSERT_EQ(doubts.size(), 1u);
    EXPECT_EQ(doubts[0].key, "reading.touch.6.4I.x");
    EXPECT_EQ(in_words(doubts[0].value, {LengthUnit::inch}), "383.012 in");
    EXPECT_EQ(doubts[0].valve, "4I");
    EXPECT_NE(spoken(doubts[0].text, LengthUnit::inch).find("383.012 would fit as mm."), std::string::npos)
        << spoken(doubts[0].text, LengthUnit::inch);
    text.after += "sure = true\n";
    EXPECT_TRUE(asked(text).empty());
}

TEST(Doubts, VacuumOfFiveHundredAndWidthOfSeventySixInches) {
    Text text;
    text.after = "[[reading.proof]]\nvalve = \"1I\"\nvacuum = \"500 inHg\"\nwidth = [76]\nrunout = 0.001\n";
    const auto doubts = asked(text, Stage::prove);
    ASSERT_EQ(doubts.size(), 2u);
    EXPECT_NE(spoken(doubts[0].text, LengthUnit::inch).find("= 500 inHg (line"), std::string::npos)
        << spoken(doubts[0].text, LengthUnit::inch);
    EXPECT_NE(spoken(doubts[0].text, LengthUnit::inch).find("500 would fit as mbar."), std::string::npos)
        << spoken(doubts[0].text, LengthUnit::inch);
    EXPECT_NE(spoken(doubts[1].text, LengthUnit::inch).find("= 76 in"), std::string::npos)
        << spoken(doubts[1].text, LengthUnit::inch);
    const Job cleared = without_doubtful_proofs(text.job());
    EXPECT_FALSE(cleared.readings.proofs.front().vacuum);
    EXPECT_TRUE(cleared.readings.proofs.front().width.empty());
    EXPECT_TRUE(cleared.readings.proofs.front().runout) << "the rest of the reading stands";
}

TEST(Doubts, AWholeFileInTheOtherUnitIsOneQuestion) {
    Text inch;
    inch.units = "mm";
    auto doubts = asked(inch);
    ASSERT_EQ(doubts.size(), 1u);
    EXPECT_EQ(spoken(sure_words(doubts[0]), LengthUnit::inch), "units = mm");
    EXPECT_NE(spoken(doubts[0].text, LengthUnit::inch).find("as if its lengths were in in"),
              std::string::npos)
        << spoken(doubts[0].text, LengthUnit::inch);
    EXPECT_TRUE(asked(inch, Stage::shape).empty()) << "it stands alone";
    inch.top = "sure = [\"units = mm\"]";
    for (const auto& doubt : asked(inch)) EXPECT_NE(doubt.key, "units");
}

TEST(Doubts, ASeatAboveTheDeckIsAskedAboutOnceAPatternEntry) {
    Text text;
    text.z = "0.35";
    auto doubts = asked(text);
    ASSERT_EQ(doubts.size(), 2u);
    EXPECT_EQ(spoken(sure_words(doubts[0]), LengthUnit::inch), "head.pattern.valve[0].z = 0.35 in");
    EXPECT_FALSE(doubts[0].valve);
    text.top = "sure = [\"head.valve.1E.z = 0.35 in\", \"head.pattern.valve[1].z = 8.89 mm\"]";
    EXPECT_TRUE(asked(text).empty());
    text.z = "0.36";
    EXPECT_EQ(asked(text).size(), 2u) << "another value asks again";
}

// One valve's z typed ten times too large: 90 mm where the others of its kind lie at 9. It would be cut
// first.
TEST(Doubts, ASeatFarFromTheOthersOfItsKindIsAskedAbout) {
    Text text;
    text.more_head = "[[head.valve]]\nid = \"4I\"\nz = -3.5\n";
    const auto doubts = asked(text);
    ASSERT_EQ(doubts.size(), 1u);
    EXPECT_EQ(doubts.front().key, "head.valve.4I.z");
    EXPECT_FALSE(doubts.front().valve) << "Z0 may be taken on it";
    text.top = "sure = [\"head.valve.4I.z = -3.5 in\"]";
    EXPECT_TRUE(asked(text).empty());
    EXPECT_NE(spoken(doubts.front().text, LengthUnit::inch).find("far from the others"), std::string::npos)
        << spoken(doubts.front().text, LengthUnit::inch);
}

TEST(Doubts, AValveOfItsOwnIsHeldBackAlone) {
    Text text;
    text.more_head = "[[head.valve]]\nid = \"1I\"\nz = 0.35\n";
    auto doubts = asked(text);
    ASSERT_EQ(doubts.size(), 1u);
    EXPECT_EQ(spoken(sure_words(doubts[0]), LengthUnit::inch), "head.valve.1I.z = 0.35 in");
    EXPECT_EQ(doubts[0].valve, "1I");
    for (const char* sure : {"head.valve.1I.z = 0.35 in", "head.valve.1I.z=0.35",
                             " head.valve.1I.z = 8.89 mm", "head.valve.1I.z = 0.35 in (Mia, 2026-01-31)"}) {
        text.top = fmt::format("sure = [\"{}\"]", sure);
        EXPECT_TRUE(asked(text).empty()) << sure;
    }
    for (const char* sure :
         {"head.valve.1I.z = 0.36 in", "head.valve.2I.z = 0.35 in", "head.valve.1I.z = high"}) {
        text.top = fmt::format("sure = [\"{}\"]", sure);
        EXPECT_EQ(asked(text).size(), 1u) << sure;
    }
}

TEST(Doubts, AGuideShorterThanTwoBores) {
    Text text;
    text.guide = "bore = 0.344\nlength = 0.68\nmouth = 0.354\nto_seat = 1.5";
    auto doubts = asked(text);
    ASSERT_EQ(doubts.size(), 1u);
    EXPECT_EQ(spoken(sure_words(doubts[0]), LengthUnit::inch), "guide.intake.length = 0.68 in");
    text.guide = "bore = 0.344\nlength = 0.69\nmouth = 0.354\nto_seat = 1.5";
    EXPECT_TRUE(asked(text).empty());
    text.guide = "bore = 0.344\nlength = 0.022\nmouth = 0.354\nto_seat = 1.5";
    doubts = asked(text);
    ASSERT_EQ(doubts.size(), 1u) << "one question for one figure";
    EXPECT_EQ(doubts[0].key, "guide.intake.length");
}

TEST(Doubts, StemPilotAndReadingsAgainstTheBore) {
    Text text;
    text.stem = "0.3125";  // 5/16 in a guide for 11/32: 0.8 mm
    ASSERT_EQ(asked(text).size(), 1u);
    EXPECT_EQ(spoken(sure_words(asked(text)[0]), LengthUnit::inch), "valve.intake.stem_diameter = 0.3125 in");
    text = {};
    text.guide = "bore = 0.3125\nlength = 2.2\nmouth = 0.354\nto_seat = 1.5";
    text.stem = "0.3115";
    ASSERT_EQ(asked(text).size(), 1u);
    EXPECT_EQ(asked(text)[0].key, "guide.intake.bore") << "no pilot near it";
    text = {};
    text.after = "[[reading.guide]]\nvalve = \"2I\"\ntop = 0.3445\nmiddle = 0.3440\nbottom = 0.3740\n";
    ASSERT_EQ(asked(text).size(), 1u);
    EXPECT_EQ(asked(text)[0].key, "reading.guide.1.2I.bottom");
    text.after += "sure = true\n";
    EXPECT_TRUE(asked(text).empty());
}

TEST(Doubts, ReadingsOfAnotherHeadWaitUntilItIsPlanned) {
    Text text;
    text.after =
        "[[reading.guide]]\nhead = \"3\"\nvalve = \"2I\"\ntop = 0.38\nmiddle = 0.344\nbottom = 0.344\n"
        "[[reading.seat]]\nhead = \"6\"\nvalve = \"1I\"\nstem_height = 1.9\n";
    const Job job = text.job();
    EXPECT_EQ(planned_head(job, {}), "6");
    EXPECT_TRUE(doubts_of(job, Stage::hold, "6").empty());
    EXPECT_EQ(doubts_of(job, Stage::hold, "3").size(), 1u);
}

TEST(Doubts, RecessionAndCleanupOfAReading) {
    Text text;
    text.after = "[[reading.seat]]\nvalve = \"1I\"\nrecession = 0.12\ncleanup = 0.05\n";  // 3.05 and 1.27 mm
    ASSERT_EQ(asked(text, Stage::shape).size(), 2u);
    text.after = "[[reading.seat]]\nvalve = \"1I\"\nrecession = \"3 mm\"\ncleanup = \"1 mm\"\n";
    EXPECT_TRUE(asked(text, Stage::shape).empty());
}

// A face of 30 deg or 54 deg on a seat of 45 deg touches it on an edge.
TEST(Doubts, AValveFaceThatCannotSealOnItsSeat) {
    Text text;
    const auto with_face = [&](const char* face) {
        Job job = text.job();
        job.valve[Kind::intake]->face_angle = *parse_quantity(face, Dimension::angle, LengthUnit::inch);
        return job;
    };
    for (const char* can : {"44", "45", "45.75", "48"})
        EXPECT_TRUE(doubts_of(with_face(can), Stage::shape, "1").empty()) << can;
    for (const char* cannot : {"30", "54", "41.5"}) {
        Job job = with_face(cannot);
        const auto doubts = doubts_of(job, Stage::shape, "1");
        ASSERT_EQ(doubts.size(), 1u) << cannot;
        EXPECT_FALSE(doubts[0].valve);
        const std::string sure = fmt::format("valve.intake.face_angle = {} deg", cannot);
        EXPECT_EQ(spoken(sure_words(doubts[0])), sure);
        job.sure = {{sure, 1}};
        EXPECT_TRUE(doubts_of(job, Stage::shape, "1").empty());
        std::erase_if(job.head.valves, [](const Valve& valve) { return valve.kind == Kind::intake; });
        job.sure.clear();
        EXPECT_TRUE(doubts_of(job, Stage::shape, "1").empty()) << "the head has no such valve";
    }
}

// A pent roof's valves run apart upwards: intake at +Y leans to −Y out of the chamber.
TEST(Doubts, RowsThatLeanIntoEachOtherCross) {
    Job wrong = fixtures::pent_roof_job();
    for (auto& valve : wrong.head.valves) valve.incline = valve.seat.y() > 0 ? rad(16) : rad(-16);
    EXPECT_FALSE(crossings(wrong).empty());
    const auto doubts = doubts_of(wrong, Stage::hold, "1");
    ASSERT_FALSE(doubts.empty());
    EXPECT_NE(spoken(doubts[0].text, LengthUnit::inch).find("cross inside the casting"), std::string::npos);
    Job right = wrong;
    for (auto& valve : right.head.valves) valve.incline = -valve.incline;
    EXPECT_TRUE(crossings(right).empty());
}

// All guides of a row lean to one side (common practice). Ids of the guides asked about, with what is said.
std::vector<std::string> leaning_otherwise(const std::vector<Valve>& valves,
                                           std::vector<std::string> sure = {}) {
    Job job;
    job.head.valves = valves;
    for (auto& words : sure) job.sure.push_back({std::move(words), 0, LengthUnit::mm, {}});
    std::vector<std::string> out;
    for (const Doubt& doubt : doubts_of(job, Stage::hold, "1"))
        if (const std::string text = spoken(doubt.text, LengthUnit::mm);
            text.find("Is its sign wrong?") != std::string::npos)
            out.push_back(doubt.key + ": " + text.substr(0, text.find(". ")));
    return out;
}

// One cylinder with four valves, intakes at +Y; a, b: inclines of the intakes, c, d: of the exhausts,
// degrees.
std::vector<Valve> four_valves(double a, double b, double c, double d) {
    return {{"1Ia", 1, Kind::intake, Vec3(-18, 17, -8), rad(a), 0},
            {"1Ib", 1, Kind::intake, Vec3(18, 17, -8), rad(b), 0},
            {"1Ea", 1, Kind::exhaust, Vec3(-18, -17, -8), rad(c), 0},
            {"1Eb", 1, Kind::exhaust, Vec3(18, -17, -8), rad(d), 0}};
}

TEST(Doubts, OneOfTwoGuidesOfACylindersRowThatLeansOtherwise) {
    using Asked = std::vector<std::string>;
    EXPECT_EQ(leaning_otherwise(four_valves(-20, -20, 20, 20)), Asked{});
    EXPECT_EQ(leaning_otherwise(four_valves(-20, 20, 20, 20)),
              Asked{"head.valve.1Ib.incline: The guide of 1Ib leans 20 deg, that of 1Ia in the same row to "
                    "the other side"});
    EXPECT_EQ(leaning_otherwise(four_valves(-20, -20, -20, 20)),
              Asked{"head.valve.1Ea.incline: The guide of 1Ea leans -20 deg, that of 1Eb in the same row to "
                    "the other side"});
    EXPECT_EQ(leaning_otherwise(four_valves(-20, 20, 20, 20), {"head.valve.1Ib.incline = 20 deg"}), Asked{});
    // Nearly upright guides may lean either way, and so may those of different rows.
    EXPECT_EQ(leaning_otherwise(four_valves(2, -2, -2, 2)), Asked{});
}

TEST(Doubts, OneGuideThatLeansOtherwiseThanMostOfItsKind) {
    std::vector<Valve> row;
    for (int n = 0; n < 4; ++n)
        row.push_back({fmt::format("{}I", n + 1), n + 1, Kind::intake, Vec3(100 * n, 3, -8),
                       rad(n == 2 ? -15 : 15), 0});
    const auto asked = leaning_otherwise(row);
    ASSERT_EQ(asked.size(), 1u);
    EXPECT_EQ(asked[0],
              "head.valve.3I.incline: The guide of 3I leans -15 deg, otherwise than most of its kind");
}

// Of a wedge head all guides lean one way; where a whole kind is typed with the other sign its row tells.
TEST(Doubts, AKindThatLeansOtherwiseThanItsRow) {
    std::vector<Valve> row;
    for (int n = 0; n < 4; ++n) {
        row.push_back({fmt::format("{}I", n + 1), n + 1, Kind::intake, Vec3(100 * n, 0, -8), rad(15), 0});
        row.push_back(
            {fmt::format("{}E", n + 1), n + 1, Kind::exhaust, Vec3(100 * n + 45, 0, -8), rad(-15), 0});
    }
    const auto asked = leaning_otherwise(row);
    ASSERT_EQ(asked.size(), 1u);
    EXPECT_EQ(
        asked[0],
        "head.valve.1I.incline: The guide of 1I leans 15 deg, that of 1E in the same row to the other side");
}

// By plane geometry: two guides of 6 mm bore, 20 mm apart in y, leaning 20 deg to each other, meet where
// 2·t·tan 20 = 20, t = 27.5 mm below the seats; guides ending before that do not.
TEST(Doubts, GuidesThatEndBeforeTheyMeetDoNotCross) {
    Job job;
    job.head.valves = {{"1E", 1, Kind::exhaust, Vec3(0, -10, -5), rad(-20), 0},
                       {"1I", 1, Kind::intake, Vec3(0, 10, -5), rad(20), 0}};
    GuideForm guide;
    guide.bore = 6;
    guide.length = 10;
    guide.to_seat = 5;
    job.guide = {guide, guide};
    EXPECT_TRUE(crossings(job).empty());
    job.guide.intake->length = job.guide.exhaust->length = 25;
    EXPECT_EQ(crossings(job).size(), 1u);
}

TEST(Doubts, AtMostThreeStandOpenAndTheDearestComeFirst) {
    std::vector<Doubt> many;
    for (int i = 0; i < 5; ++i) {
        Doubt doubt;
        doubt.cost = i == 3 ? Cost::wrong_side : Cost::form;
        doubt.key = fmt::format("k{}", i);
        doubt.value = "1 mm";
        doubt.text = saying("Odd.");
        doubt.valve = "1I";
        many.push_back(doubt);
    }
    Notices notices;
    ask_about(notices, dearest_first(many));
    ASSERT_EQ(notices.warnings.size(), 3u);
    ASSERT_EQ(notices.held_back.size(), 3u);
    EXPECT_NE(spoken(notices.warnings[0].text, LengthUnit::inch).find("sure = [\"k3 = 1 mm\"]"),
              std::string::npos)
        << spoken(notices.warnings[0].text, LengthUnit::inch);
    EXPECT_EQ(notices.warnings[0].severity, Severity::blocking);
    for (const auto& held : notices.held_back) {
        EXPECT_EQ(held.code, HeldCode::doubt);
        EXPECT_FALSE(held.valve) << "what is not asked yet holds all back";
    }
    Notices few;
    ask_about(few, {many[0]});
    ASSERT_EQ(few.held_back.size(), 1u);
    EXPECT_EQ(few.held_back[0].valve, "1I");
    Notices waiting;
    ask_about(waiting, {many[0]}, most_open);
    EXPECT_TRUE(waiting.warnings.empty());
    ASSERT_EQ(waiting.held_back.size(), 1u);
    EXPECT_FALSE(waiting.held_back[0].valve);
}

TEST(Doubts, SureThatIsNoKeyAndValueIsAFault) {
    Text text;
    text.top = "sure = [\"all of it\"]";
    const auto read = read_job(text.text(), "job.toml", {});
    ASSERT_FALSE(read);
    EXPECT_EQ(read.error().front().key, "sure");
}

// The table speaks of keys that exist, in their dimension, and each range is one.
TEST(Ranges, EveryRowIsOfAKey) {
    for (const auto& row : plausible_ranges()) {
        const auto keys = all_keys();
        const auto key =
            std::find_if(keys.begin(), keys.end(), [&](const Key& k) { return k.path == row.key; });
        ASSERT_NE(key, keys.end()) << row.key;
        EXPECT_EQ(key->dimension, row.key == "head.bolt_holes" || row.key == "depth.deck_at"
                                      ? Dimension::length
                                      : row.dimension)
            << row.key;
        EXPECT_LT(row.low, row.high) << row.key;
        EXPECT_FALSE(row.basis.empty()) << row.key;
    }
    EXPECT_GT(plausible_ranges().size(), 80u);
}

// Figures of published manuals (trade.md, sections b to f) all lie within.
TEST(Ranges, WhatManualsPrintCanBe) {
    const auto fits = [](const char* key, double mm) {
        const auto* row = plausible_for(key);
        ASSERT_TRUE(row) << key;
        EXPECT_TRUE(can_be(*row, mm)) << key << " " << mm;
    };
    fits("guide.*.bore", 12.69);                        // S9, wear limit
    fits("seat.*.width", 3.175);                        // S10, S17: 1/8 in
    fits("seat.*.recession_max", 2.26);                 // S18
    fits("seat.*.runout_max", 0.0508);                  // S9, S12, S17
    fits("valve.*.margin", 2.67);                       // S9
    fits("seat.*.insert.outside", 2.3815 * 25.4);       // S9
    fits("seat.*.insert.depth", 0.517 * 25.4);          // S9
    fits("seat.*.insert.interference", 0.0045 * 25.4);  // S9
    fits("depth.deck_cut", 2.0);                        // S23
    fits("reading.proof[].vacuum", 25 * 3.386388);      // heavy diesel, common practice
}

}  // namespace
}  // namespace seatwright::job
