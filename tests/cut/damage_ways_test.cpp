// Other ways of working, damaged: one file for a setup with a length for each cutter, a float moved by hand,
// no words for the way to the top.
#include <gtest/gtest.h>

#include <algorithm>

#include "cut/harms.hpp"
#include "spoken.hpp"

namespace seatwright::cut {
namespace {

Sound with_offsets() {
    job::Job job = fixtures::programmed_job();
    job.machine.zero = job::ZeroKept::offsets;
    return {fixtures::programmed(job)};
}

TEST(DamageFirst, TheFirstFileEndsWhereItsSeatIsMeasured) {
    const Sound sound{fixtures::planned(fixtures::programmed_job())};
    ASSERT_EQ(sound.program().route.part, FilePart::first);
    EXPECT_GE(
        do_all(sound, {{"stays where it is", "G0 X-50.0000 Y-90.0000\\n", "", "elsewhere"},
                       {"goes where heads are loaded", "G0 X-50.0000 Y-90.0000", "G0 X-60.0000 Y-100.0000",
                        "before the first seat is measured"},
                       {"not cut short", "G1 Z-0.0200", "G1 Z-0.1200", "ends at"},
                       {"ends with the spindle turning", "M30", "S215 M3\nM30", ""},
                       {"ends with the float free", "M30", "M62 P1\nM30", "ends with the float"},
                       {"ends without the way to the top", "G53 G0 Z0\\n(?=G0 X-50)", "", "way to the top"},
                       {"goes on without a measurement", "M30",
                        "(valve 3E, seat 2 of 2)\nG0 X224.0000 Y0.0000\nM30", ""}}),
        7);
}

// The first seat came 0.035 deeper than planned: every stop moves up by so much, and the head of the file
// says it.
TEST(DamageFirst, TheTrimSaidIsTheTrimMade) {
    job::Job job = fixtures::programmed_job();
    const auto planned = fixtures::programmed(job), first_files = fixtures::planned(job);
    for (const Program& program : first_files.cut.programs) {
        job::FirstSeat first;
        first.valve = program.route.stops.at(0).id;
        first.depth = program.route.stops.at(0).depth + 0.035;
        job.readings.firsts.push_back(first);
    }
    fixtures::touch_all(job, planned.hold);
    const Sound sound{fixtures::planned(job)};
    ASSERT_NE(sound.text().find("trim +0.0350"), std::string::npos) << sound.text();
    for (const Stop& stop : sound.program().route.stops) {
        const auto& before = planned.cut.programs.at(0).route.stops;
        const auto same =
            std::find_if(before.begin(), before.end(), [&](const Stop& s) { return s.id == stop.id; });
        ASSERT_NE(same, before.end());
        EXPECT_NEAR(stop.z, same->z + 0.035, 1e-9) << stop.id;
    }
    EXPECT_GE(do_all(sound, {{"another trim said", "trim \\+0.0350", "trim +0.0700", "shifted by"},
                             {"the other sign said", "trim \\+0.0350", "trim -0.0350", "shifted by"},
                             {"no trim said", "trim \\+0.0350 ", "", "does not say the trim"},
                             {"Z0 may be moved", "do not move Z0", "", "stays where it is"}}),
              4);
}

TEST(DamageHeld, WhatIsHeldBackIsNamed) {
    job::Job job = fixtures::programmed_job();
    job.guide.intake->bore_max = 8.83;
    for (job::GuideBore& bore : job.readings.guides)
        if (bore.valve == "3E") bore.top = bore.middle = bore.bottom = 8.95;  // to be repaired
    const Sound sound{fixtures::programmed(job)};
    ASSERT_FALSE(sound.program().route.held_back.empty());
    EXPECT_GE(do_all(sound, {{"not named", "(Held back, not in this file: )3E", "$1", "is held back"}}), 1);
}

TEST(DamageOffsets, EachCutterHasItsOwnLength) {
    const Sound sound = with_offsets();
    ASSERT_EQ(sound.made.cut.programs.size(), 1u) << spoken(sound.made.cut.held_back.at(0).reason);
    EXPECT_GT(do_all(sound, {{"wrong H", "G43 H1 ", "G43 H2 ", "without the length"},
                             {"wrong H", "G43 H2 ", "G43 H1 ", "without the length"},
                             {"no H", "G43 H1\\n((?:[^\\n]*\\n){1,4})G43 H1 ", "$1", "without the length"},
                             {"no H", "G43 H2\\n((?:[^\\n]*\\n){1,4})G43 H2 ", "$1", "without the length"},
                             {"G49 with lengths", "G43 H[12] ", "G49 ", "without the length"},
                             {"the length called off later", "\\n(G1 Z8)", "\nG49\n$1", "without the length"},
                             {"the length called off on the way up", "\\n(G0 Z142)", "\nG49\n$1",
                              "without the length"},
                             {"no change", "\\nT[12] M6", "", ""},
                             {"the other cutter", "T1 M6", "T2 M6", "is not the one"},
                             {"the other cutter", "T2 M6", "T1 M6", "is not the one"},
                             {"a second cutter without the way to the top", "G53 G0 Z0\\n(\\(cutter 2)", "$1",
                              "without going to the top"},
                             {"after the change straight across", "G43 H2 G1 Z[0-9.]+ F300.00\\n", "", ""},
                             {"after the change by a rapid", "(G43 H[12] )G1", "$1G0", "not known"}}),
              10);
}

// A second cutter whose Z0 nobody asked for.
TEST(DamageOffsets, ASecondCutterWithoutItsZeroIsRefused) {
    const Sound sound = with_offsets();
    EXPECT_GT(do_all(sound,
                     {{"cutter 2 not asked for", "\\(Z0 of cutter 2 taken on .*\\?\\)\\n", "", "before Z0"},
                      {"cutter 1 not asked for", "\\(Z0 of cutter 1 taken on .*\\?\\)\\n", "", "before Z0"}}),
              1);
}

Sound by_hand(const char* centre, bool lock) {
    job::Job job = fixtures::programmed_job();
    job.dialect.top.clear();
    job.machine.tool_float = job::Float{job::Float::Kind::commanded, "hand", "hand", centre};
    job.machine.lock_to_cut = lock;
    return {fixtures::programmed(job)};
}

TEST(DamageByHand, EveryHaltOfTheFloatIsNeeded) {
    const Sound sound = by_hand("hand", true);
    EXPECT_GT(
        do_all(sound,
               {{"not freed on the way in", "\\(Free the float\\)\\nM0\\n(G1 Z[01]\\.)", "$1", "enters"},
                {"not locked to cut", "\\(Lock the float where it stands\\)\\nM0\\n", "", "not locked"},
                {"not freed on the way out", "\\(Free the float\\)\\nM0\\n(G1 Z[34])", "$1", "comes out"},
                {"not centred", "\\(Centre the float and lock it\\)\\nM0\\n", "", "not centred"},
                {"a halt of no float in the guide", "\\(Lock the float where it stands\\)", "(Look)",
                 "halts with the tool in a seat"},
                {"no halt for the tool above everything", "\\(Bring the tool above everything, by hand\\)",
                 "(Look)", "above everything"}}),
        12);
}

TEST(DamageByHand, SpringsAndAFloatThatStaysFreeAskLess) {
    const auto halts = [](const std::string& text) {
        int count = 0;
        for (std::size_t at = text.find("\nM0\n"); at != std::string::npos; at = text.find("\nM0\n", at + 1))
            ++count;
        return count;
    };
    const Sound all = by_hand("hand", true), springs = by_hand("self", true), free = by_hand("self", false);
    for (const Sound* sound : {&all, &springs, &free}) EXPECT_EQ(sound->refuses(sound->text()), "");
    EXPECT_GT(halts(all.text()), halts(springs.text()));
    EXPECT_GT(halts(springs.text()), halts(free.text()));
}

}  // namespace
}  // namespace seatwright::cut
