// What a program says to the person at the machine, against what it does. Invented data.
#include <gtest/gtest.h>

#include "cut/harms.hpp"
#include "seatwright/cut/program.hpp"

namespace seatwright::cut {
namespace {

bool has(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

TEST(ProgramWords, HeightsStandAsTheControlShowsThem) {
    for (const int sign : {1, -1}) {
        job::Job job = fixtures::programmed_job();
        job.machine.z_sign = sign;
        const Sound sound{fixtures::programmed(job)};
        const std::string minus = sign < 0 ? "-" : "";
        for (const char* words : {"(Clear height Z #142 mm; feeds", "to Z #142 mm)\n(At Z #142 mm the tip",
                                  "look)\nM0\nG1 Z#142.0000 F300.00\n", "G0 Z#142.0000\n"}) {
            std::string said = words;
            for (std::size_t at; (at = said.find('#')) != std::string::npos;) said.replace(at, 1, minus);
            std::replace(said.begin(), said.end(), ';', ',');
            EXPECT_TRUE(has(sound.text(), said)) << said << "\n" << sound.text();
        }
        EXPECT_GE(do_all(sound, {{"the sign of the clear height", "(Clear height Z )-?",
                                  sign < 0 ? "$1" : "$1-", "the clear height is"},
                                 {"the sign of the look", "(At Z )-?", sign < 0 ? "$1" : "$1-",
                                  "look at the tool at"}}),
                  2);
    }
}

TEST(ProgramWords, HeightsAreSaidInInchesToo) {
    job::Job job = fixtures::programmed_job();
    job.units = LengthUnit::inch;
    job.machine.z_sign = -1;
    const Sound sound{fixtures::programmed(job)};
    EXPECT_TRUE(has(sound.text(), "(Clear height Z -5.5906 in, feeds a minute)")) << sound.text();
    EXPECT_TRUE(has(sound.text(), "(At Z -5.5906 in the tip stands ")) << sound.text();
    EXPECT_EQ(sound.refuses(sound.text()), "");
}

// One file, two cutters: each is looked at by hand before anything goes down with its length, and the valve
// is named when its cutter is in.
TEST(ProgramWords, EachCutterIsLookedAtAndTheValveNamedOnceItIsIn) {
    job::Job job = fixtures::programmed_job();
    job.machine.zero = job::ZeroKept::offsets;
    const Sound sound{fixtures::programmed(job)};
    const std::string& text = sound.text();
    std::size_t at = 0;
    for (const char* words :
         {"(cutter 1: ", "T1 M6", "G43 H1\n", "(At Z ", "M0", "G43 H1 G1 Z", "(valve ",
          "(cutter 2: ", "T2 M6", "G43 H2\n", "(At Z ", "M0", "G43 H2 G1 Z", "(valve ", "M30"}) {
        at = text.find(words, at);
        ASSERT_NE(at, std::string::npos) << words << "\n" << text;
    }
    // The valve's name is not between the last seat and the change.
    const std::size_t change = text.find("(cutter 2: ");
    EXPECT_EQ(text.find("(valve", text.rfind("G0 Z", change)), text.find("(valve", change));
    EXPECT_EQ(do_all(sound, {{"a look left out", "\\(Bring the tool by hand.*\\n\\(At Z .*look\\)\\nM0\\n",
                              "", "was looked at"},
                             {"a look after the first move",
                              "(\\(Bring the tool by hand.*\\n\\(At Z .*look\\)\\nM0\\n)(G43 H[12] G1 "
                              "Z142.0000 F300.00\\n)",
                              "$2$1", "was looked at"}}),
              4);
}

TEST(ProgramWords, TheSpindleIsStoppedRightAfterTheModes) {
    for (const bool numbered : {false, true}) {
        job::Job job = fixtures::programmed_job();
        job.dialect.line_numbers = numbered;
        const Sound sound{fixtures::programmed(job)};
        EXPECT_TRUE(
            has(sound.text(), numbered ? "G90 G94\nN20 M5\nN30 G53 G0 Z0\n" : "G90 G94\nM5\nG53 G0 Z0\n"))
            << sound.text();
    }
}

}  // namespace
}  // namespace seatwright::cut
