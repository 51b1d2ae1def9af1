// Two pilot sizes in a file: what stands for Z0, what is put in on the way, and where. Invented data.
#include <gtest/gtest.h>

#include <map>

#include "cut/harms.hpp"
#include "seatwright/cut/program.hpp"

namespace seatwright::cut {
namespace {

bool has(const std::string& text, const std::string& words) {
    return text.find(words) != std::string::npos;
}

// The guide of 1I is the larger pilot's, all others the smaller one's; Z0 of the intakes' cutter on 2I.
job::Job two_sizes() {
    job::Job job = fixtures::programmed_job();
    for (job::GuideBore& bore : job.readings.guides)
        if (bore.valve == "1I") bore.top = bore.middle = bore.bottom = 8.734;
    job.depth.zero_on = "2I";
    return job;
}

// Of the program that cuts 1I.
Sound cuts_1I(fixtures::Programmed made) {
    Sound sound{std::move(made)};
    for (std::size_t i = 0; i < sound.made.cut.programs.size(); ++i)
        for (const Stop& stop : sound.made.cut.programs[i].route.stops)
            if (stop.id == "1I") sound.which = i;
    return sound;
}

std::string planted_list(const Sound& sound) {
    std::string list;
    for (const Stop& stop : sound.program().route.stops)
        list += (list.empty() ? "" : ", ") + sound.made.job.pilots[*stop.pilot].name + " in " + stop.id;
    return list + ", nothing elsewhere";
}

// Lines of the program between two that hold these words.
std::string between(const std::string& text, const std::string& from, const std::string& to) {
    const std::size_t a = text.find(from);
    return a == std::string::npos ? "" : text.substr(a, text.find(to, a) - a);
}

TEST(TwoPilots, TheHeadAndTheFirstHaltNameThePilotOfZ0AndTheHaltBeforeTheFirstSeatTheOther) {
    const Sound sound = cuts_1I(fixtures::planned(two_sizes()));
    const Route& route = sound.program().route;
    ASSERT_EQ(route.part, FilePart::first);
    ASSERT_EQ(route.stops.at(0).id, "1I");
    ASSERT_EQ(route.zeros.at(0).pilot, 0u);
    EXPECT_EQ(route.stops[0].pilot, 1u);
    const std::string& text = sound.text();
    EXPECT_TRUE(has(between(text, "(Seatwright", "G17"), "(For Z0 pilot 8.71 in guide 2I, cutter 2)"));
    EXPECT_TRUE(has(between(text, "G17", "?)"), "(For Z0 pilot 8.71 in guide 2I, cutter 2)"));
    // From where Z0 was taken: top, float in its middle, over to where seats are measured, and up again.
    EXPECT_TRUE(has(text,
                    "taken on 2I of head 1?)\nM0\nG53 G0 Z0\nM64 P1\nM63 P1\nG0 X-50.0000 Y-90.0000\n"
                    "(Put pilot 8.73 in cutter 2)\nM0\n(Bring the tool by hand, slowly, over 2I, to Z 142 "
                    "mm)\n(At Z 142"))
        << text;
    EXPECT_EQ(sound.refuses(text), "");
}

TEST(TwoPilots, EachChangeIsAHaltBesideTheHead) {
    const Sound sound = cuts_1I(fixtures::programmed(two_sizes()));
    const std::string& text = sound.text();
    // 1I goes on with what a person is asked for anew, since the file before may have left either in.
    EXPECT_LT(text.find("(Put pilot 8.73 in cutter 2)"), text.find("(valve 1I"));
    EXPECT_TRUE(has(between(text, "(valve 1I", "(valve 3I"),
                    "G0 Z142.0000\nG53 G0 Z0\nG0 X-50.0000 Y-90.0000\n(Put pilot 8.71 in cutter 2)\nM0\n"
                    "G1 Z142.0000 F300.00\n"))
        << text;
    EXPECT_FALSE(has(between(text, "(valve 3I", "M30"), "Put pilot"));
    EXPECT_GT(
        do_all(sound,
               {{"no halt for the first pilot", "\\(Put pilot 8.73 in cutter 2\\)\\nM0\\n", "",
                 "before its pilot is in"},
                {"no halt for the second", "\\(Put pilot 8.71 in cutter 2\\)\\nM0\\n", "", "without pilot"},
                {"a halt that names no pilot", "\\(Put pilot 8.7[13] in cutter 2\\)", "(Read the paper)",
                 "pilot"},
                {"the wrong pilot", "Put pilot 8.73", "Put pilot 8.71", "needs 8.73"},
                {"the wrong pilot", "Put pilot 8.71", "Put pilot 8.73", "needs 8.71"},
                {"a pilot nobody has", "Put pilot 8.7[13]", "Put pilot 8.99", "nobody knows"},
                {"two at once", "(\\(Put pilot 8.7[13] in cutter 2\\))",
                 "(Put pilot 8.71 in cutter 2)\n(Put pilot 8.73 in cutter 2)", "nobody knows"},
                {"planted instead", "\\(Put pilot 8.7[13] in cutter 2\\)",
                 "(Planted now: " + planted_list(sound) + ")", "where none are"},
                {"aside to another X", "G0 X-50.0000 (Y-90.0000\\n\\(Put)", "G0 X-20.0000 $1", "is at X"},
                {"aside to another Y", "(G0 X-50.0000) Y-90.0000(\\n\\(Put)", "$1 Y-20.0000$2", "is at X"},
                {"in another cutter", "(Put pilot 8.7[13] in) cutter 2", "$1 cutter 1", "nobody knows"},
                {"over the head", "G0 X-50.0000 Y-90.0000\\n(\\(Put)", "$1", "beside the head"},
                {"over the seat just cut", "G53 G0 Z0\\nG0 X-50.0000 Y-90.0000\\n(\\(Put pilot 8.71)", "$1",
                 "beside the head"},
                {"by hand where there is a place", "G0 X-50.0000 Y-90.0000\\n(\\(Put)",
                 "(Bring the tool away from the head, by hand)\n$1", "beside the head"},
                {"after it straight on", "(\\(Put pilot.*\\)\\nM0\\n)G1 Z142.0000 F300.00\\n", "$1", ""},
                {"after it a rapid", "(\\(Put pilot.*\\)\\nM0\\n)G1 (Z142.0000) F300.00", "$1G0 $2",
                 "not known"},
                {"after it too fast", "(\\(Put pilot.*\\)\\nM0\\nG1 Z142.0000) F300.00", "$1 F900.00",
                 "after a halt is at"},
                {"aside for nothing", "\\(valve 3I", "G0 X-50.0000 Y-90.0000\n(valve 3I", "is at X"}}),
        20);
}

// Where the first seat is cut after its pilot only because the file says that it still stands.
TEST(TwoPilots, APilotStandsFromZ0OnOnlyWhereNothingElseWasPutIn) {
    const Sound sound = cuts_1I(fixtures::programmed(two_sizes()));
    const Expected expected = sound.made.expected(sound.program());
    const auto fault = [&](const std::function<void(Route&)>& harm) {
        Route route = sound.program().route;
        harm(route);
        const std::string text = write_program(sound.made.job, sound.made.hold.setups.at(route.setup), route);
        const auto found = read_back(text, sound.made.job, route, expected);
        return found ? found->text : std::string();
    };
    EXPECT_EQ(fault([](Route&) {}), "");
    EXPECT_TRUE(has(fault([](Route& r) { r.zeros[0].pilot_stands = true; }), "may have been changed"));
    EXPECT_TRUE(has(fault([](Route& r) { r.zeros[0].pilot = 1; }), "another pilot than it is cut with"));
    EXPECT_TRUE(has(fault([](Route& r) { r.zeros[0].pilot.reset(); }), "another pilot than it is cut with"));
    EXPECT_TRUE(has(fault([](Route& r) { r.stops[0].pilot = 0; }), "before it locks"));
    EXPECT_TRUE(has(fault([](Route& r) { r.stops[1].pilot = 1; }), "does not lock"));
    EXPECT_TRUE(has(fault([](Route& r) { r.stops[1].pilot = 2; }), "which is narrower"));
    EXPECT_TRUE(has(fault([](Route& r) { r.stops[1].pilot.reset(); }), "lacks a pilot"));
    EXPECT_TRUE(has(fault([](Route& r) { r.pilot = job::PilotUse::live; }), "cannot be live"));
    EXPECT_TRUE(has(fault([](Route& r) {
                        r.zeros[0].pilot_stands = true;
                        r.zeros[0].pilot.reset();
                        r.zeros[0].taken.valve = 0;
                    }),
                    "no pilot stands"));
}

TEST(TwoPilots, WithoutAPlaceItIsDoneByHandAwayFromTheHead) {
    job::Job job = two_sizes();
    job.machine.load_at.reset();
    job.machine.measure_at = Vec2(60, 0);  // over the head: no place for it
    for (const char* top : {"G53 G0 Z0", ""}) {
        job.dialect.top = top;
        const Sound sound = cuts_1I(fixtures::programmed(job));
        EXPECT_TRUE(has(sound.text(),
                        "(Bring the tool above everything and away from the head, by hand)\n(Put pilot 8.71"))
            << sound.text();
        EXPECT_GE(do_all(sound, {{"over the head", "\\(Bring.*away from the head, by hand\\)\\n(\\(Put)",
                                  "$1", "beside the head"}}),
                  2);
    }
}

// Block zero: the pilot is out, and comes in before the first seat.
TEST(TwoPilots, AfterABlockThePilotIsPutIn) {
    job::Job job = fixtures::programmed_job();
    for (job::Valve& valve : job.head.valves) valve.incline = 0;
    job.depth.from = job::DepthFrom::deck;
    job.depth.block = 25;
    job.readings.touches.clear();
    job.sure = {{"head.lies = as declared", 1}};  // upright, it might lie end for end
    const Sound sound{fixtures::planned(job)};
    const std::string& text = sound.text();
    EXPECT_TRUE(has(between(text, "(Seatwright", "G17"), "(For Z0 no pilot, cutter 1)")) << text;
    EXPECT_TRUE(has(text, "taken on the block on the deck of head 1?)\nM0\nG53 G0 Z0\n")) << text;
    EXPECT_LT(text.find("(Put pilot 8.71 in cutter 1)"), text.find("(valve "));
    EXPECT_GT(do_all(sound, {{"not put in", "\\(Put pilot.*\\)\\nM0\\n", "", "before its pilot is in"},
                             {"not asked for on the block", "on the block on the deck", "on 1E", "before Z0"},
                             {"asked for with a pilot", "\\(For Z0 no pilot, cutter 1\\)\\n", "", ""}}),
              3);
}

// Of planted pilots the one for Z0 stands in the guide of the last planting.
TEST(TwoPilots, PlantedOnesStandForZ0ThenForTheSeats) {
    job::Job job = fixtures::programmed_job();
    job.cut.pilot = job::PilotUse::planted;
    for (job::Pilot& pilot : job.pilots) pilot.style = job::PilotStyle::tapered, pilot.count = 1;
    const Sound sound{fixtures::planned(job)};
    const std::string& text = sound.text();
    const Route& route = sound.program().route;
    ASSERT_EQ(route.stops.size(), 1u);
    ASSERT_NE(route.stops[0].valve, *route.zeros[0].taken.valve);
    const std::string list = "8.71 in " + route.stops[0].id + ", nothing elsewhere)";
    EXPECT_TRUE(has(text, "(Planted after Z0: " + list)) << text;
    EXPECT_TRUE(has(text, "G0 X-50.0000 Y-90.0000\n(Planted now: " + list +
                              "\nM0\n(Bring the tool by hand, slowly, over 2E, to Z"))
        << text;
    EXPECT_GT(
        do_all(sound,
               {{"not listed", "\\(Planted after Z0:.*\\)\\n", "", "does not list"},
                {"another guide listed", "(Planted after Z0: 8.71 in) [0-9][EI]", "$1 9X", "does not list"},
                {"not planted", "\\(Planted now:.*\\)\\nM0\\n", "", "before its pilot is"},
                {"another guide planted", "(Planted now: 8.71 in) [0-9][EI]", "$1 9X", "before its pilot is"},
                {"over the head", "G0 X-50.0000 Y-90.0000\\n(\\(Planted)", "$1", "beside the head"}}),
        5);
    job.pilots[0].count = 8;
    const Sound at_once{fixtures::programmed(job)};
    EXPECT_TRUE(has(at_once.text(), "(Planted before the start: 8.71 in ")) << at_once.text();
    EXPECT_FALSE(has(at_once.text(), "Planted now"));
    EXPECT_EQ(at_once.refuses(at_once.text()), "");
}

// Lengths for each cutter: each has its pilot from its Z0 on, unless there is but one of it.
TEST(TwoPilots, OnePieceInTwoCuttersIsPutInAnew) {
    job::Job job = fixtures::programmed_job();
    job.machine.zero = job::ZeroKept::offsets;
    for (job::Pilot& pilot : job.pilots) pilot.count.reset();
    EXPECT_FALSE(has(fixtures::programmed(job).cut.programs.at(0).text, "Put pilot"));
    job.pilots[0].count = 2;
    EXPECT_FALSE(has(fixtures::programmed(job).cut.programs.at(0).text, "Put pilot"));
    job.pilots[0].count = 1;
    const Sound sound{fixtures::programmed(job)};
    EXPECT_TRUE(has(sound.text(), "(Put pilot 8.71 in cutter 1)\nM0\n(cutter 1: ")) << sound.text();
    EXPECT_TRUE(has(sound.text(), "(Put pilot 8.71 in cutter 2)\nM0\n(cutter 2: ")) << sound.text();
    EXPECT_GE(do_all(sound, {{"not put in", "\\(Put pilot.*\\)\\nM0\\n", "", "before its pilot is in"},
                             {"in the other cutter", "(Put pilot 8.71 in cutter) 1", "$1 2", "in cutter 1"},
                             {"not beside the head", "G0 X-50.0000 Y-90.0000\\n", "", "beside the head"}}),
              4);
}

// Cutter 1, cutter 2, and each again after the first seats: the one piece goes to and fro.
TEST(TwoPilots, OnePieceGoesToAndFroBetweenTwoCutters) {
    job::Job job = fixtures::programmed_job();
    job.machine.zero = job::ZeroKept::offsets;
    job.machine.trim = job::TrimAt::control;
    job.pilots[0].count = 1;
    const auto puts = [](const Sound& sound) {
        int count = 0;
        for (std::size_t at = 0; (at = sound.text().find("(Put pilot", at)) != std::string::npos; ++at)
            ++count;
        return count;
    };
    const Sound sound{fixtures::programmed(job)};
    EXPECT_EQ(puts(sound), 4);
    EXPECT_EQ(do_all(sound, {{"not put in", "\\(Put pilot.*\\)\\nM0\\n", "", "pilot"}}), 4);
    // Of the larger one there are two: put into one cutter it stays in the other.
    job.pilots[0].count.reset();
    job.pilots[1].count = 2;
    for (job::GuideBore& bore : job.readings.guides)
        if (bore.valve == "1E" || bore.valve == "1I") bore.top = bore.middle = bore.bottom = 8.734;
    const Sound two{fixtures::programmed(job)};
    EXPECT_EQ(two.refuses(two.text()), "");
    EXPECT_GE(puts(two), 2);
    std::map<std::size_t, int> cutters;  // that have it
    for (const Stop& stop : two.program().route.stops)
        if (stop.pilot == 1u) cutters[1] |= 1 << stop.tool.number;
    EXPECT_EQ(cutters[1], 6);
}

}  // namespace
}  // namespace seatwright::cut
