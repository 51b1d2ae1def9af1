// Which entries count: corrections, choices, conflicts, and the job file they make together.
#include "seatwright/store/live.hpp"

#include <gtest/gtest.h>

#include <random>

#include "seatwright/store/merge.hpp"

namespace seatwright::store {
namespace {

// Entries as the store would hand them out, numbered from 1.
class Record {
  public:
    Entry& add(EntryKind kind, const std::string& valve, Json values) {
        Entry e;
        e.id = e.sequence = static_cast<long long>(entries.size() + 1);
        e.client_key = "key-" + std::to_string(e.id);
        e.kind = kind;
        e.valve = valve;
        e.values = std::move(values);
        e.by = "Mia";
        entries.push_back(e);
        return entries.back();
    }
    Entry& touch(const std::string& valve, Json x, Json y) {
        return add(EntryKind::touch, valve, {{"x", x}, {"y", y}});
    }
    std::vector<long long> used() const {
        std::vector<long long> ids;
        const auto resolution = resolve(entries);
        for (std::size_t i = 0; i < entries.size(); ++i)
            if (!resolution.standing[i].used.empty()) ids.push_back(entries[i].id);
        return ids;
    }
    std::vector<Entry> entries;
};

using Ids = std::vector<long long>;

TEST(Live, ACorrectionTakesThePlaceOfWhatItNames) {
    Record r;
    r.touch("1I", 1, 2);
    r.touch("1I", 1, 3).corrects = 1;
    EXPECT_EQ(r.used(), Ids{2});
    const auto resolution = resolve(r.entries);
    EXPECT_EQ(resolution.standing[0].superseded_by, 2);
    EXPECT_FALSE(resolution.standing[0].live);
    EXPECT_TRUE(resolution.conflicts.empty());
    r.touch("1I", 1, 4).corrects = 2;
    EXPECT_EQ(r.used(), Ids{3});
}

TEST(Live, TakingBackACorrectionBringsTheCorrectedBack) {
    Record r;
    r.touch("1I", 1, 2);
    r.touch("1I", 1, 3).corrects = 1;
    auto& back = r.add(EntryKind::touch, "1I", Json::object());
    back.corrects = 2;
    back.withdrawn = true;
    EXPECT_EQ(r.used(), Ids{1});
    auto& gone = r.add(EntryKind::touch, "1I", Json::object());
    gone.corrects = 1;
    gone.withdrawn = true;
    EXPECT_EQ(r.used(), Ids{});
}

TEST(Live, TwoValuesForOnePlaceAreBothKeptUntilAPersonChooses) {
    Record r;
    r.touch("1I", 1, 2);
    r.touch("1I", 1, 3);
    auto resolution = resolve(r.entries);
    ASSERT_EQ(resolution.conflicts.size(), 1u);
    EXPECT_EQ(to_words(resolution.conflicts[0].place), "touch/1/1I/touch");
    EXPECT_EQ(resolution.conflicts[0].entries, (Ids{1, 2}));
    EXPECT_EQ(resolution.conflicts[0].used, 1);
    EXPECT_TRUE(resolution.standing[0].conflict && resolution.standing[1].conflict);
    EXPECT_EQ(r.used(), Ids{1});
    r.add(EntryKind::choice, "1I", {{"chosen", 2}});
    resolution = resolve(r.entries);
    EXPECT_TRUE(resolution.conflicts.empty());
    EXPECT_EQ(resolution.standing[0].superseded_by, 3);
    EXPECT_EQ(r.used(), Ids{2});
    r.touch("1I", 9, 9);
    EXPECT_EQ(resolve(r.entries).conflicts.size(), 1u) << "what comes after a choice is a new difference";
}

// Somebody rejected 2; nobody has said since that it was right.
TEST(Live, WhatWasRejectedDoesNotComeBackWhenTheChosenOneGoes) {
    Record r;
    r.touch("1I", 1, 2);
    r.touch("1I", 1, 3);
    r.add(EntryKind::choice, "1I", {{"chosen", 2}});
    auto& better = r.touch("1I", 1, 3.5);
    better.corrects = 2;
    EXPECT_EQ(r.used(), Ids{4}) << "the chosen one read better";
    EXPECT_TRUE(resolve(r.entries).conflicts.empty());
    auto& gone = r.add(EntryKind::touch, "1I", Json::object());
    gone.corrects = 4;
    gone.withdrawn = true;
    EXPECT_EQ(r.used(), Ids{2}) << "a correction taken back brings back what it corrected";
    auto& empty = r.add(EntryKind::touch, "1I", Json::object());
    empty.corrects = 2;
    empty.withdrawn = true;
    EXPECT_EQ(r.used(), Ids{}) << "open, to be read anew";
    r.touch("1I", 1, 5);
    EXPECT_EQ(r.used(), Ids{7});
    EXPECT_TRUE(resolve(r.entries).conflicts.empty());
}

TEST(Live, AChoiceTakenBackBringsBothValuesBack) {
    Record r;
    r.touch("1I", 1, 2);
    r.touch("1I", 1, 3);
    r.add(EntryKind::choice, "1I", {{"chosen", 2}});
    auto& back = r.add(EntryKind::choice, "1I", Json::object());
    back.corrects = 3;
    back.withdrawn = true;
    EXPECT_EQ(resolve(r.entries).conflicts.size(), 1u);
}

TEST(Live, TwoCorrectionsOfOneEntryAreADifferenceToo) {
    Record r;
    r.touch("1I", 1, 2);
    r.touch("1I", 1, 3).corrects = 1;
    r.touch("1I", 1, 4).corrects = 1;
    ASSERT_EQ(resolve(r.entries).conflicts.size(), 1u);
    EXPECT_EQ(resolve(r.entries).conflicts[0].entries, (Ids{2, 3}));
}

TEST(Live, TheSameValueTwiceIsNoConflictWhateverItsUnit) {
    Record r;
    r.touch("1I", 25.4, "12.7 mm");
    r.touch("1I", "1 in", 0.5).units = LengthUnit::inch;
    EXPECT_TRUE(resolve(r.entries).conflicts.empty());
    EXPECT_EQ(r.used(), Ids{1});
}

bool in_conflict(const Json& first, const Json& second, const char* key = "stem_height",
                 EntryKind kind = EntryKind::seat) {
    Record r;
    r.add(kind, "1I", {{key, first}});
    r.add(kind, "1I", {{key, second}});
    return !resolve(r.entries).conflicts.empty();
}

// An inch is 25.4 mm by definition; 1.5625 in is 39.6875 mm.
TEST(Live, ReadAgainInAnotherUnitIsNoConflictWithinWhatTheGaugeShows) {
    EXPECT_FALSE(in_conflict("39.69 mm", "1.5625 in"));
    EXPECT_FALSE(in_conflict("1.5625 in", 39.688));
    EXPECT_FALSE(in_conflict("1-9/16 in", "39.69 mm"));
    EXPECT_FALSE(in_conflict("39.6875 mm", "1562.5 thou"));
    EXPECT_TRUE(in_conflict("39.70 mm", "1.5625 in"));
    EXPECT_TRUE(in_conflict("39.688 mm", "1.5627 in"))
        << "39.6926 mm, 0.0046 off, and both show finer than that";
    // 20 inHg is 67.73 kPa (conventional inch of mercury, 3.386389 kPa).
    EXPECT_FALSE(in_conflict("20 inHg", "68 kPa", "vacuum", EntryKind::proof));
    EXPECT_TRUE(in_conflict("20 inHg", "69 kPa", "vacuum", EntryKind::proof));
}

TEST(Live, AShortNumberHidesNoDifference) {
    EXPECT_TRUE(in_conflict("0.3 in", "0.31 in")) << "one unit: what differs differs";
    EXPECT_TRUE(in_conflict("0.3 in", "0.3001 in"));
    EXPECT_FALSE(in_conflict("0.3 in", "0.3000 in"));
    EXPECT_TRUE(in_conflict("0.3 in", "8 mm")) << "7.62 and 8 mm, though both round to 8";
    EXPECT_FALSE(in_conflict("0.3 in", "7.62 mm"));
}

TEST(Live, ListsAreComparedNumberByNumber) {
    EXPECT_FALSE(in_conflict({"1.52 mm", "1.55 mm"}, {"0.0598 in", "0.0610 in"}, "width", EntryKind::proof));
    EXPECT_TRUE(in_conflict({"1.52 mm", "1.55 mm"}, {"0.0598 in", "0.0620 in"}, "width", EntryKind::proof));
    EXPECT_TRUE(in_conflict({"1.52 mm", "1.55 mm"}, {"0.0598 in"}, "width", EntryKind::proof));
}

TEST(Live, RepeatsAndUnlabelledTouchesAreAllUsed) {
    Record r;
    r.touch("1I", 1, 2);
    r.touch("1I", 1, 3).repeat = true;
    r.touch("?", 5, 5);
    r.touch("?", 6, 6);
    EXPECT_EQ(r.used(), (Ids{1, 2, 3, 4}));
    EXPECT_TRUE(resolve(r.entries).conflicts.empty());
}

TEST(Live, QuantitiesOfOneSeatStandForThemselves) {
    Record r;
    r.add(EntryKind::seat, "1I", {{"stem_height", 40}, {"cleanup", 0.1}});
    r.add(EntryKind::seat, "1I", {{"stem_height", 41}});
    r.add(EntryKind::choice, "1I", {{"chosen", 2}});
    const auto resolution = resolve(r.entries);
    EXPECT_TRUE(resolution.conflicts.empty());
    EXPECT_EQ(resolution.standing[0].used, std::vector<std::string>{"cleanup"});
    EXPECT_TRUE(resolution.standing[0].live);
    EXPECT_EQ(resolution.standing[1].used, std::vector<std::string>{"stem_height"});
    const std::string text = readings_toml(r.entries, resolution, LengthUnit::mm);
    EXPECT_EQ(text, "\n[[reading.seat]]\nhead = \"1\"\nvalve = \"1I\"\ncleanup = 0.1\nstem_height = 41\n");
}

TEST(Merge, BareLengthsKeepTheUnitTheyWereEnteredIn) {
    Record r;
    r.touch("1I", 1.5, "0,25").units = LengthUnit::inch;
    auto& level = r.add(EntryKind::level, "1I", {{"across", "incline"}, {"first", "0.12"}});
    level.units = LengthUnit::inch;
    auto& seat = r.add(EntryKind::seat, "1I", {{"chamber", "64 cm3"}, {"section", {{1, 2}, {3, "4 mm"}}}});
    seat.units = LengthUnit::inch;
    const std::string same = readings_toml(r.entries, resolve(r.entries), LengthUnit::inch);
    EXPECT_NE(same.find("x = 1.5\ny = \"0,25\"\n"), std::string::npos) << same;
    const std::string other = readings_toml(r.entries, resolve(r.entries), LengthUnit::mm);
    EXPECT_NE(other.find("x = \"1.5 in\"\ny = \"0,25 in\"\n"), std::string::npos) << other;
    EXPECT_NE(other.find("first = \"0.12\"\n"), std::string::npos)
        << "an angle has no unit of length: " << other;
    EXPECT_NE(other.find("section = [[\"1 in\", \"2 in\"], [\"3 in\", \"4 mm\"]]"), std::string::npos)
        << other;
}

TEST(Merge, WhoeverEnteredAProofIsWhoMeasured) {
    Record r;
    r.add(EntryKind::proof, "1I", {{"runout", 0.01}});
    EXPECT_NE(readings_toml(r.entries, resolve(r.entries), LengthUnit::mm).find("by = \"Mia\""),
              std::string::npos);
    r.entries[0].client_key = "import:1";
    EXPECT_EQ(readings_toml(r.entries, resolve(r.entries), LengthUnit::mm).find("by ="), std::string::npos)
        << "an imported file says itself who measured, or does not";
}

TEST(Merge, NamesAndDayOfAProofComeFromItsLogin) {
    Record r;
    auto& e = r.add(EntryKind::proof, "1I",
                    {{"runout", 0.01}, {"by", "Zoe"}, {"accepted_by", "Zoe"}, {"date", "1999-12-31"}});
    e.at_ms = 1769817600000;  // 2026-01-31
    const std::string shown = readings_toml(r.entries, resolve(r.entries), LengthUnit::mm);
    EXPECT_NE(shown.find("by = \"Mia\"\n"), std::string::npos) << shown;
    EXPECT_NE(shown.find("accepted_by = \"Mia\"\n"), std::string::npos) << shown;
    EXPECT_NE(shown.find("date = \"2026-01-31\"\n"), std::string::npos) << shown;
    EXPECT_EQ(shown.find("Zoe"), std::string::npos) << shown;
    EXPECT_EQ(shown.find("1999"), std::string::npos) << shown;
    r.entries[0].client_key = "import:1";
    const std::string file = readings_toml(r.entries, resolve(r.entries), LengthUnit::mm);
    EXPECT_NE(file.find("accepted_by = \"Zoe\"\n"), std::string::npos)
        << "an imported file speaks for itself";
    EXPECT_EQ(file.find("Mia"), std::string::npos) << file;
    EXPECT_TRUE(names_from_a_file(r.entries[0]));
    r.entries[0].client_key = "1";
    EXPECT_FALSE(names_from_a_file(r.entries[0]));
}

// A day or a name a page sends with any reading is its login's.
TEST(Merge, NoReadingSaysAnotherNameOrDayThanItsLogin) {
    Record r;
    r.add(EntryKind::touch, "2I", {{"x", 1.0}, {"y", 2.0}, {"date", "1999-12-31"}, {"by", "Zoe"}}).at_ms =
        1769817600000;  // 2026-01-31
    const std::string shown = readings_toml(r.entries, resolve(r.entries), LengthUnit::mm);
    EXPECT_NE(shown.find("date = \"2026-01-31\"\n"), std::string::npos) << shown;
    EXPECT_NE(shown.find("by = \"Mia\"\n"), std::string::npos) << shown;
}

// What somebody stands by says who, and when, by the login; other readings of that kind say nothing of it.
TEST(Merge, WhatSomebodyStandsByNamesThem) {
    Record r;
    r.add(EntryKind::touch, "2I", {{"x", 1.0}, {"y", 2.0}});
    EXPECT_EQ(readings_toml(r.entries, resolve(r.entries), LengthUnit::mm).find("Mia"), std::string::npos);
    auto& kept = r.add(EntryKind::touch, "1I", {{"x", 1.0}, {"y", 2.0}, {"keep", true}, {"by", "Zoe"}});
    kept.at_ms = 1769817600000;  // 2026-01-31
    const std::string shown = readings_toml(r.entries, resolve(r.entries), LengthUnit::mm);
    EXPECT_NE(shown.find("by = \"Mia\"\n"), std::string::npos) << shown;
    EXPECT_NE(shown.find("date = \"2026-01-31\"\n"), std::string::npos) << shown;
    EXPECT_EQ(shown.find("Zoe"), std::string::npos) << shown;
    auto& seat = r.add(EntryKind::seat, "1I", {{"recession", 0.2}});
    seat.at_ms = 1769817600000;
    auto& sure = r.add(EntryKind::seat, "1I", {{"cleanup", 2.5}, {"sure", true}});
    sure.at_ms = 1769904000000;  // a day later
    const std::string both = readings_toml(r.entries, resolve(r.entries), LengthUnit::mm);
    EXPECT_NE(both.find("2026-02-01"), std::string::npos) << both;
}

TEST(Merge, TextsCannotBreakOutOfTheirQuotes) {
    Record r;
    auto& e = r.add(EntryKind::proof, "1I", {{"runout", 0.01}, {"by", "a\"\n[head]\nname = \"b"}});
    e.head = "\"]\n";
    const std::string text = readings_toml(r.entries, resolve(r.entries), LengthUnit::mm);
    ASSERT_NE(text.find("[[reading.proof]]"), std::string::npos) << text;
    EXPECT_EQ(text.find("\n[head]"), std::string::npos) << text;
}

TEST(Live, AHeadMayBeCalled6Slash1) {
    Record r;
    r.touch("1I", 1, 2).head = "6";
    r.touch("1I", 1, 3).head = "6/1";
    r.touch("1I", 1, 4).head = "6/1";
    const auto resolution = resolve(r.entries);
    ASSERT_EQ(resolution.conflicts.size(), 1u);
    EXPECT_EQ(resolution.conflicts[0].place, (Place{EntryKind::touch, "6/1", "1I", "touch"}));
    EXPECT_EQ(resolution.conflicts[0].entries, (Ids{2, 3}));
    EXPECT_FALSE(std::as_const(resolution.standing)[0].conflict);
    // Texts that read alike are not one place.
    Record twins;
    twins.touch("2/1I", 1, 2).head = "6";
    twins.touch("1I", 1, 3).head = "6/2";
    EXPECT_TRUE(resolve(twins.entries).conflicts.empty());
}

// Entry by entry what counts is what counts of all of them.
TEST(Live, ARunningResolutionIsTheWholeOne) {
    std::mt19937 dice(3);
    const auto pick = [&](int from, int to) { return std::uniform_int_distribution(from, to)(dice); };
    for (int run = 0; run < 60; ++run) {
        Record r;
        RunningResolution running;
        for (int step = 0; step < 40; ++step) {
            const std::string valve = pick(0, 9) == 0 ? "?" : std::to_string(pick(1, 3)) + "I";
            const int what = pick(0, 9);
            if (what < 4)
                r.touch(valve, pick(0, 2), 0);
            else if (what < 7)
                r.add(EntryKind::seat, valve,
                      pick(0, 1) ? Json{{"stem_height", pick(0, 1)}, {"cleanup", 1}}
                                 : Json{{"recession", pick(0, 1)}});
            else if (what < 8 && !r.entries.empty())
                r.add(EntryKind::choice, "", {{"chosen", pick(1, static_cast<int>(r.entries.size()))}});
            else
                r.add(EntryKind::done, "", {{"stage", "find"}, {"done", true}});
            Entry& last = r.entries.back();
            if (pick(0, 9) == 0 && last.id > 1) last.corrects = pick(1, static_cast<int>(last.id) - 1);
            if (pick(0, 9) == 0) last.withdrawn = true;
            if (pick(0, 9) == 0) last.repeat = true;
            const Resolution &kept = running.take(r.entries), anew = resolve(r.entries);
            ASSERT_EQ(kept.standing.size(), anew.standing.size());
            for (std::size_t i = 0; i < r.entries.size(); ++i) {
                const Standing &a = std::as_const(kept.standing)[i], &b = std::as_const(anew.standing)[i];
                ASSERT_EQ(a.used, b.used) << run << " " << step << " " << i;
                ASSERT_EQ(a.live, b.live) << run << " " << step << " " << i;
                ASSERT_EQ(a.conflict, b.conflict);
                ASSERT_EQ(a.superseded_by, b.superseded_by);
            }
            ASSERT_EQ(kept.conflicts.size(), anew.conflicts.size());
        }
    }
}

}  // namespace
}  // namespace seatwright::store
