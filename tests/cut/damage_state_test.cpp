// The state table at odd moments: words too early, too late or for nothing, in every way a pilot is held.
// Invented data.
#include <gtest/gtest.h>

#include "cut/harms.hpp"
#include "seatwright/cut/program.hpp"

namespace seatwright::cut {
namespace {

// One seat after its place was gone to, down to its retract.
const char* const over_a_seat = "(G0 X[0-9][^\\n]*\\n)(G1 Z8)";

TEST(DamageState, WordsOfTheFloatAtTheWrongMoment) {
    const Sound sound{fixtures::programmed(fixtures::programmed_job())};
    EXPECT_GT(
        do_all(
            sound,
            {{"freed and locked without being centred", "(G0 X[0-9])", "M62 P1\nM63 P1\n$1", "not centred"},
             {"locked once it turns", "(S215 M3\\n)", "$1M63 P1\n", "locked while the spindle turns"},
             {"centred once it turns", "(S215 M3\\n)", "$1M64 P1\n", "centred while the spindle turns"},
             {"locked as it lifts off", "(M5\\nG4 P2.00\\n)(M62)", "$1M63 P1\n$2", "half-way"},
             {"freed by a halt where there is a word", "M62 P1", "(Free the float)\nM0", "has a word"},
             {"centred by a halt where there is a word", "M64 P1", "(Centre the float)\nM0", "has a word"},
             {"freed while Z is not known", "(first seat was measured\\?\\)\\nM0\\n)",
              "$1(Free the float)\nM0\n", "has a word"}}),
        20);
}

TEST(DamageState, SpindleAndWaitsAtTheWrongMoment) {
    const Sound sound{fixtures::programmed(fixtures::programmed_job())};
    EXPECT_GT(
        do_all(sound,
               {{"started again as it lifts off", "(G1 Z0.8[^\\n]*\\n)M5\\n", "$1M5\nS215 M3\nM5\n",
                 "spindle is started"},
                {"a wait much too long", "(S215 M3\\nG4 )P2.00", "$1P9.00", "where none is asked"},
                {"a wait before the seat", over_a_seat, "G4 P1.00\n$1$2", "no seat is at depth"},
                {"a wait at the top", over_a_seat, "G53 G0 Z0\n$1G4 P1.00\n$2", "no seat is at depth"},
                {"started at the top", over_a_seat, "G53 G0 Z0\n$1S215 M3\n$2", "no seat is to be cut"},
                {"started instead of stopped at first", "G94\\nM5", "G94\nS100 M3", "before anything else"},
                {"no M5 after the cut", "(F4.30\\n)M5\\nG4 P2.00\\nM62 P1\\n", "$1",
                 "with the spindle turning"}}),
        15);
}

TEST(DamageState, MovesThatLeadNowhere) {
    const Sound sound{fixtures::programmed(fixtures::programmed_job())};
    EXPECT_GT(
        do_all(sound,
               {{"up from where it stands", over_a_seat, "$1G0 Z142.0000\n$2", "drawn back"},
                {"slanting", "(G0 X[0-9.]+ Y[-0-9.]+)", "$1 Z142.5", "slanting"},
                {"by a feed along X", "(G0 X[0-9])", "G1 X1.0000 F300.00\n$1", "sideways"},
                {"by a feed along Y", "(G0 X[0-9])", "G1 Y0.5000 F300.00\n$1", "sideways"},
                {"higher than planned", over_a_seat, "$1G1 Z150.0000 F300.00\n$2", "above the clear height"},
                {"a halt over the mouth", "(M62 P1\\nG1 Z[01])", "(Read the paper)\nM0\n$1",
                 "halts below the clear height"},
                {"down after the last seat", "(G0 Z142.0000\\n)(?=G53 G0 Z0\\nG0 X-60)",
                 "$1G1 Z120.0000 F100.00\n", "after the last seat"},
                {"a look after the last seat", "(G0 Z142.0000\\n)(?=G53 G0 Z0\\nG0 X-60)",
                 "$1(At Z 142 mm the tip stands 16.2 mm over the deck at 2E: look)\nM0\n",
                 "after the last seat"},
                {"a pilot after the last seat", "(G0 X-60.0000 Y-100.0000\\n)",
                 "$1(Put pilot 8.71 in cutter 1)\nM0\n", "after the last seat"},
                {"a comment after the end", "M30\\n", "M30\n(Well done)\n", "follows the program's end"},
                {"a trim said where none is made", "(Z0 of cutter 1 taken on [^\\n]*\\?)",
                 "$1)\n(Cutter 1: trim +0.0350 is in this file: do not move Z0", "shifted by"},
                {"a pilot where none is needed", "(Z0 of cutter 1 taken on [^\\n]*\\?)",
                 "$1)\n(Put pilot 8.73 in cutter 1", "beside the head"}}),
        23);
}

// The way up by a feed is slower, and as good.
TEST(DamageState, TheWayUpMayBeAFeed) {
    const Sound sound{fixtures::programmed(fixtures::programmed_job())};
    EXPECT_EQ(
        sound.refuses(std::regex_replace(sound.text(), std::regex("G0 Z142.0000"), "G1 Z142.0000 F600.00")),
        "");
}

// Every seat gone to and left again uncut, and the last one left out.
TEST(DamageState, ASeatGoneToAndLeftUncutIsMissed) {
    const Sound sound{fixtures::programmed(fixtures::programmed_job())};
    const std::string& text = sound.text();
    int done = 0;
    for (std::size_t at = text.find("G0 X", text.find("(valve")); at != std::string::npos;) {
        const std::size_t down = text.find('\n', at) + 1, up = text.find("G0 Z142.0000\n", down);
        if (up == std::string::npos) break;
        std::string left = text.substr(0, down) + "G53 G0 Z0\nG1 Z142.0000 F300.00\n" + text.substr(up + 13);
        const std::string fault = sound.refuses(left);
        EXPECT_TRUE(fault.find("is at X") != std::string::npos ||
                    fault.find("is not cut") != std::string::npos ||
                    fault.find("after the last seat") != std::string::npos)
            << fault;
        ++done;
        at = text.find("G0 X", up);
    }
    EXPECT_EQ(done, 3);
    const std::size_t last = text.rfind("(valve"), end = text.rfind("G0 Z142.0000\n") + 13;
    std::string without = text;
    without.erase(last, end - last);
    // Not over where heads are loaded either, since a seat is still to come.
    without.erase(without.rfind("G0 X-60"), std::string("G0 X-60.0000 Y-100.0000\n").size());
    EXPECT_NE(sound.refuses(without).find("is not cut"), std::string::npos) << sound.refuses(without);
}

TEST(DamageState, TheFirstMoveAcrossHasBothAxes) {
    const Sound sound{fixtures::programmed(fixtures::programmed_job())};
    for (const char* axis : {"X[0-9.]+ (Y[0-9.]+)", "(X[0-9.]+) Y[0-9.]+"}) {
        const std::string text = std::regex_replace(sound.text(), std::regex(std::string("G0 ") + axis),
                                                    "G0 $1", std::regex_constants::format_first_only);
        ASSERT_NE(text, sound.text());
        EXPECT_NE(sound.refuses(text).find("one axis"), std::string::npos) << sound.refuses(text);
    }
}

Sound with(const std::function<void(job::Job&)>& change) {
    job::Job job = fixtures::programmed_job();
    change(job);
    return {fixtures::programmed(job)};
}

job::Job& live(job::Job& job) {
    job.cut.pilot = job::PilotUse::live;
    job.cut.entry_rpm = 100;
    for (job::Pilot& pilot : job.pilots)
        pilot.style = job::PilotStyle::parallel, pilot.taper = 0, pilot.turns_with_tool = true;
    return job;
}

// A live pilot goes in at its own speed, from over the mouth on and not before.
TEST(DamageLive, TheSpeedOfTheWayInIsHeld) {
    const Sound sound = with([](job::Job& job) { live(job); });
    EXPECT_GT(
        do_all(sound,
               {{"another speed on the way in", "(S100 M3\\n)", "$1S215\n", "turning at 215"},
                {"the cutting speed on the way in", "S100 M3", "S215 M3", "is approached to"},
                {"started at the clear height", "(G1 Z8[^\\n]*F600.00\\n)(M62 P1\\n)(S100 M3\\n)", "$3$1$2",
                 "is approached to"},
                {"started with the tip in the mouth", "(S100 M3\\n)(G1 Z[01]\\.)",
                 "G1 Z60.0000 F300.00\n$1$2", "is approached to"},
                {"let in too fast", "(S100 M3\\nG1 Z[01]\\.[0-9]+) F300", "$1 F900", "lets the pilot in"},
                {"up again turning", "(S100 M3\\n)", "$1G0 Z142.0000\n", "a rapid with the spindle"},
                {"to the top turning", "(S100 M3\\n)", "$1G53 G0 Z0\n", "goes to the top"},
                {"out of the guide turning", "M5\\nG4 P2.00\\n(M62)", "S100\n$1", ""}}),
        20);
}

TEST(DamageLive, TwoSizesAreChangedLikeCarriedOnes) {
    const Sound sound = with([](job::Job& job) {
        live(job);
        job.pilots[1].diameter = 8.76;
        job.pilots[2].diameter = 8.5;
        for (job::GuideBore& bore : job.readings.guides)
            if (bore.valve == "1E") bore.top = bore.middle = bore.bottom = 8.764;
    });
    EXPECT_GE(
        do_all(
            sound,
            {{"not put in", "\\(Put pilot.*\\)\\nM0\\n", "", "pilot"},
             {"beside the place in X", "G0 X-50.0000 (Y-90.0000\\n\\(Put)", "G0 X-20.0000 $1", "is at X"},
             {"beside the place in Y", "(G0 X-50.0000) Y-90.0000(\\n\\(Put)", "$1 Y-20.0000$2", "is at X"}}),
        6);
}

// Without a pilot nothing leads a tool whose float is free.
TEST(DamageNone, TheFloatStaysLocked) {
    const Sound sound = with([](job::Job& job) {
        job.cut.pilot = job::PilotUse::none;
        for (const auto kind : job::both_kinds) job.seat[kind]->runout_max = 1;
    });
    ASSERT_EQ(sound.program().route.pilot, job::PilotUse::none);
    EXPECT_GT(
        do_all(sound, {{"not locked at first", "M64 P1\\nM63 P1\\n", "", "not centred and locked"},
                       {"freed over the seat", "(G1 Z1\\.[^\\n]*F300)", "M62 P1\n$1", "no pilot leads"},
                       {"freed on the way across", "(G0 X[0-9])", "M62 P1\n$1", "not centred and locked"},
                       {"freed and locked", "(G0 X[0-9])", "M62 P1\nM63 P1\n$1", "not centred"}}),
        8);
}

TEST(DamageSoft, AFloatThatNobodyMovesIsAskedForNothing) {
    const Sound sound = with([](job::Job& job) { job.machine.tool_float->kind = job::Float::Kind::soft; });
    EXPECT_EQ(sound.text().find("M6"), std::string::npos);
    EXPECT_GT(do_all(sound, {{"asked to be freed", "(G1 Z[01]\\.[^\\n]*F300)", "(Free the float)\nM0\n$1",
                              "nobody moves"}}),
              2);
}

// Springs bring a free float back to its middle once the pilot is out of the guide.
TEST(DamageSprings, NeedNoWordForTheMiddle) {
    const Sound sound = with([](job::Job& job) { job.machine.tool_float->centre = "self"; });
    EXPECT_EQ(sound.text().find("M64"), std::string::npos);
    EXPECT_EQ(
        sound.refuses(std::regex_replace(sound.text(), std::regex("(G0 X[0-9])"), "M62 P1\nM63 P1\n$1")), "");
    EXPECT_GT(do_all(sound, {{"not freed on the way in", "M62 P1\\n(G1 Z[01]\\.)", "$1", "enters"},
                             {"not freed on the way out", "M62 P1\\n(G1 Z3)", "$1", "comes out"}}),
              5);
}

TEST(DamageByHand, TheFloatIsMovedOnlyWhereTheHeightIsKnown) {
    const Sound sound = with([](job::Job& job) {
        job.dialect.top.clear();
        job.machine.tool_float = job::Float{job::Float::Kind::commanded, "hand", "hand", "hand"};
    });
    EXPECT_GE(do_all(sound, {{"right after Z0", "(first seat was measured\\?\\)\\nM0\\n)",
                              "$1(Centre the float and lock it)\nM0\n", "at a height not known"}}),
              1);
}

// Locked by a word after a person centred it: the other way round it would be held off its centre.
TEST(DamageByHand, TheFloatIsCentredBeforeAWordLocksIt) {
    const Sound sound = with([](job::Job& job) {
        job.machine.tool_float = job::Float{job::Float::Kind::commanded, "M62 P1", "M63 P1", "hand"};
    });
    EXPECT_NE(sound.text().find("(Centre the float)\nM0\nM63 P1\n"), std::string::npos) << sound.text();
    EXPECT_GE(do_all(sound, {{"locked first", "\\(Centre the float\\)\\nM0\\nM63 P1\\n",
                              "M63 P1\n(Centre the float)\nM0\n", "while it is locked"}}),
              2);
}

// Without words for the top each change of cutter is a halt that asks for it.
TEST(DamageByHand, ACutterIsChangedAboveEverything) {
    const Sound sound = with([](job::Job& job) {
        job.dialect.top.clear();
        job.machine.zero = job::ZeroKept::offsets;
    });
    EXPECT_GE(do_all(sound, {{"not asked for above everything",
                              "\\(Bring the tool above everything, by hand\\)\\nM0\\n(\\(cutter 2)", "$1",
                              "without going to the top"},
                             {"asked for something else",
                              "\\(Bring the tool above everything, by hand\\)(\\nM0\\n\\(cutter 2)",
                              "(Read the paper)$1", "without going to the top"},
                             {"after a halt a rapid", "(look\\)\\nM0\\nG43 H[12] )G1 (Z142.0000) F300.00",
                              "$1G0 $2", ""}}),
              4);
}

TEST(DamageOffsets, ACutterMoreOrLess) {
    const Sound sound = with([](job::Job& job) { job.machine.zero = job::ZeroKept::offsets; });
    EXPECT_GE(do_all(sound, {{"the first not put in", "T1 M6\\n", "", "before a cutter is put in"},
                             {"the second not put in", "T2 M6\\n", "", "without the length"},
                             {"on with the first", "T2 M6\\nG43 H2((?:\\n[^\\n]*){1,4}\\n)G43 H2",
                              "G43 H1$1G43 H1", "needs cutter 2"},
                             {"one after the last seat", "(G0 X-60.0000 Y-100.0000\\n)", "$1T1 M6\n",
                              "is not the one"},
                             {"across right after the change",
                              "(T2 M6\\n)G43 H2\\n(?:[^\\n]*\\n){3}G43 H2 G1 Z142.0000 F300.00\\n", "$1",
                              "before Z is known"}}),
              5);
}

// Z0 moved at the control: the halt after the first seat is needed, with and without a place for it.
TEST(DamageControl, TheFirstSeatIsMeasuredBeforeTheOthers) {
    for (const bool place : {true, false}) {
        const Sound sound = with([&](job::Job& job) {
            job.machine.trim = job::TrimAt::control;
            if (!place) job.machine.measure_at.reset();
        });
        ASSERT_TRUE(sound.program().route.measure_after.has_value());
        EXPECT_GE(
            do_all(sound, {{"no halt for it",
                            "(G53 G0 Z0\\n)?(G0 X-50.0000 Y-90.0000\\n)?\\(Measure [^\\n]*\\n[^\\n]*\\nM0\\n",
                            "", "before the first seat is measured"},
                           {"the valve not named again", "\\(valve 1E, seat 2 of 4\\)\\n", "", "naming it"}}),
            2);
    }
}

// The only seat of its cutter is the touched one: short, measured, and to its stop.
TEST(DamageControl, ASingleSeatIsCutTwice) {
    job::Job job = fixtures::programmed_job(1);
    job.machine.trim = job::TrimAt::control;
    const Sound sound{fixtures::programmed(job)};
    ASSERT_EQ(sound.program().route.stops.size(), 2u);
    EXPECT_EQ(sound.refuses(sound.text()), "");
}

TEST(DamageControl, PlantedOnesAreListedOnce) {
    const Sound sound = with([](job::Job& job) {
        job.machine.trim = job::TrimAt::control;
        job.cut.pilot = job::PilotUse::planted;
        for (job::Pilot& pilot : job.pilots) pilot.style = job::PilotStyle::tapered;
    });
    EXPECT_EQ(sound.refuses(sound.text()), "");
    EXPECT_NE(sound.text().find(
                  "(Planted before the start: 8.71 in 1E, 8.71 in 3E, 8.71 in 2E, nothing elsewhere)"),
              std::string::npos)
        << sound.text();
}

// The machine's travel and places left out; a file that moves anywhere after its last seat all the same.
TEST(DamageState, WithoutAPlaceToLoadNothingIsGoneToAfterTheLastSeat) {
    const Sound sound = with([](job::Job& job) {
        job.machine.load_at.reset();
        job.machine.measure_at.reset();
        job.machine.rpm_min.reset();
        job.machine.rpm_max.reset();
    });
    EXPECT_GE(do_all(sound, {{"a move after the last seat", "(G53 G0 Z0\\n)M30", "$1G0 X1 Y1\nM30",
                              "after the last"}}),
              1);
}

// What a person calls things is no instruction.
TEST(DamageWords, NamesAndTitlesAreNotTakenForInstructions) {
    const Sound sound = with([](job::Job& job) {
        job.title = "Free float? At Z 5 look: put pilots in, lock it";
        job.pilots[0].name = "lock free float";
    });
    EXPECT_EQ(sound.refuses(sound.text()), "");
    const Sound two = with([](job::Job& job) {
        job.pilots[0].name = "centre the float";
        job.pilots[1].name = "free float";
        for (job::GuideBore& bore : job.readings.guides)
            if (bore.valve == "1E") bore.top = bore.middle = bore.bottom = 8.734;
    });
    EXPECT_NE(two.text().find("(Put pilot free float in cutter 1)"), std::string::npos);
    EXPECT_EQ(two.refuses(two.text()), "");
    job::Job planted = fixtures::programmed_job();
    planted.cut.pilot = job::PilotUse::planted;
    for (job::Pilot& pilot : planted.pilots) pilot.style = job::PilotStyle::tapered, pilot.count = 1;
    planted.pilots[0].name = "free float";
    const Sound now{fixtures::planned(planted)};
    EXPECT_NE(now.text().find("(Planted now: free float in "), std::string::npos) << now.text();
    EXPECT_EQ(now.refuses(now.text()), "");
}

}  // namespace
}  // namespace seatwright::cut
