// Other ways of working, damaged: one file for a setup with a length for each cutter, a float moved by hand,
// no words for the way to the top.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <functional>
#include <regex>
#include <sstream>

#include "cut/programmed.hpp"
#include "seatwright/cut/readback.hpp"

namespace seatwright::cut {
namespace {

std::string replaced(const std::string& text, const char* from, const char* to, int which) {
    const std::regex pattern(from);
    std::sregex_iterator at(text.begin(), text.end(), pattern), end;
    for (; which > 0 && at != end; --which) ++at;
    if (at == end) return text;
    const std::string put = at->format(to);
    return text.substr(0, static_cast<std::size_t>(at->position())) + put +
           text.substr(static_cast<std::size_t>(at->position() + at->length()));
}

struct Sound {
    fixtures::Programmed made;
    std::string refuses(const std::string& text) const {
        const Program& program = made.cut.programs.at(0);
        const auto fault = read_back(text, made.job, program.route, made.expected(program));
        return fault ? fault->text : std::string();
    }
    const std::string& text() const { return made.cut.programs.at(0).text; }
};

struct Harm {
    const char* what;
    const char* from;  // replaced, in each place it is found
    const char* to;
    const char* says;
};

// Does each harm in each place it fits, and counts them.
int do_all(const Sound& sound, const std::vector<Harm>& harms) {
    EXPECT_EQ(sound.refuses(sound.text()), "");
    int done = 0;
    for (const Harm& harm : harms) {
        int here = 0;
        for (;; ++here) {
            const std::string text = replaced(sound.text(), harm.from, harm.to, here);
            if (text == sound.text()) break;
            const std::string fault = sound.refuses(text);
            EXPECT_NE(fault, "") << harm.what << " " << here;
            EXPECT_NE(fault.find(harm.says), std::string::npos) << harm.what << " " << here << ": " << fault;
        }
        EXPECT_GT(here, 0) << harm.what << "\n" << sound.text();
        done += here;
    }
    return done;
}

Sound with_offsets() {
    job::Job job = fixtures::programmed_job();
    job.machine.zero = job::ZeroKept::offsets;
    return {fixtures::programmed(job)};
}

TEST(DamageOffsets, EachCutterHasItsOwnLength) {
    const Sound sound = with_offsets();
    ASSERT_EQ(sound.made.cut.programs.size(), 1u);
    EXPECT_GT(do_all(sound, {{"wrong H", "G43 H1 ", "G43 H2 ", "without the length"},
                             {"wrong H", "G43 H2 ", "G43 H1 ", "without the length"},
                             {"no H", "G43 H[12] ", "", "without the length"},
                             {"G49 with lengths", "G43 H[12] ", "G49 ", "without the length"},
                             {"the length called off later", "\\n(G1 Z8)", "\nG49\n$1", "without the length"},
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
