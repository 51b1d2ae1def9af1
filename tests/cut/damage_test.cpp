// Programs damaged on purpose: every kind of damage is refused by the read-back, wherever it is done, and by
// the check that is meant for it: its sentence says so. A check taken out lets its damage through or to
// another sentence, and the test fails.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <functional>
#include <map>
#include <regex>
#include <sstream>

#include "cut/programmed.hpp"
#include "seatwright/cut/program.hpp"
#include "seatwright/cut/readback.hpp"

namespace seatwright::cut {
namespace {

using Lines = std::vector<std::string>;

Lines lines_of(const std::string& text) {
    Lines lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) lines.push_back(line);
    return lines;
}
std::string text_of(const Lines& lines) {
    std::string text;
    for (const auto& line : lines) text += line + "\n";
    return text;
}

// Places (line numbers) a kind of damage can be done at, what it does there, and what the refusal says of it.
struct Damage {
    const char* what;
    std::regex where;
    std::function<void(Lines&, std::size_t)> harm;
    const char* says = "";
};

std::function<void(Lines&, std::size_t)> swap_words(const char* from, const char* to) {
    return [=](Lines& lines, std::size_t i) {
        lines[i] =
            std::regex_replace(lines[i], std::regex(from), to, std::regex_constants::format_first_only);
    };
}
// Adds to the number after `letter`, in the units of the program.
std::function<void(Lines&, std::size_t)> shift(char letter, double by) {
    return [=](Lines& lines, std::size_t i) {
        const std::size_t at = lines[i].find(letter);
        const double value = std::stod(lines[i].substr(at + 1));
        lines[i] = std::regex_replace(lines[i], std::regex(fmt::format("{}-?[0-9.]+", letter)),
                                      fmt::format("{}{:.5f}", letter, value + by));
    };
}
std::function<void(Lines&, std::size_t)> scale(char letter, double by) {
    return [=](Lines& lines, std::size_t i) {
        const std::size_t at = lines[i].find(letter);
        const double value = std::stod(lines[i].substr(at + 1));
        lines[i] = std::regex_replace(lines[i], std::regex(fmt::format("{}-?[0-9.]+", letter)),
                                      fmt::format("{}{:.5f}", letter, value * by));
    };
}
void drop(Lines& lines, std::size_t i) {
    lines.erase(lines.begin() + static_cast<std::ptrdiff_t>(i));
}
std::function<void(Lines&, std::size_t)> before(const char* block) {
    return [=](Lines& lines, std::size_t i) {
        lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(i), block);
    };
}
std::function<void(Lines&, std::size_t)> after(const char* block) {
    return [=](Lines& lines, std::size_t i) {
        lines.insert(lines.begin() + static_cast<std::ptrdiff_t>(i) + 1, block);
    };
}
// Only where the spindle has cut: there is one M5 at the start.
std::function<void(Lines&, std::size_t)> after_cut(std::function<void(Lines&, std::size_t)> harm) {
    return [=](Lines& lines, std::size_t i) {
        if (lines[i - 1].rfind("G1 ", 0) == 0) harm(lines, i);
    };
}
void swap_with_next(Lines& lines, std::size_t i) {
    if (i + 1 < lines.size()) std::swap(lines[i], lines[i + 1]);
}

const char* const modes_line = "G17 .*G90.*";
const char* const across = "G0 X.* Y.*";
const char* const to_seat = "G0 X[0-9].* Y.*";  // load_at has X below 0
const char* const across_off_zero = "G0 X-?[0-9.]*[1-9][0-9.]* Y.*";
const char* const up = "G0 Z.*";
const char* const over_mouth_line = "G1 Z8.* F600.*";
const char* const way_in = "G1 Z[01]\\..* F300.*";
const char* const roughing = "G1 Z-.* F(10.75|8.75)";
const char* const finishing = "G1 Z-.* F(4.30|3.50)";
const char* const lift_line = "G1 Z0\\.[89].* F(4.30|3.50)";
const char* const loosening = "G1 Z3.* F60.*";
const char* const way_out = "G1 Z8.* F300.*";
const char* const after_halt = "G1 Z142.* F300.*";
const char* const wait = "G4 P2.00";
const char* const dwell = "G4 P0.*";
const char* const start = "S[0-9]+ M3";
const char* const naming = "\\(valve .*";
const char* const freeing = "M62 P1";
const char* const locking = "M63 P1";
const char* const centring = "M64 P1";
const char* const top = "G53 G0 Z0";

std::vector<Damage> modes_and_words() {
    return {
        {"plane left out", std::regex(modes_line), swap_words("G17 ", ""), "G17"},
        {"wrong plane", std::regex(modes_line), swap_words("G17", "G18"), "G17"},
        {"the other length unit", std::regex(modes_line), swap_words("G21", "G20"), "G21"},
        {"length unit left out", std::regex(modes_line), swap_words("G21 ", ""), "G21"},
        {"incremental for absolute", std::regex(modes_line), swap_words("G90", "G91"), ""},
        {"absolute mode left out", std::regex(modes_line), swap_words("G90 ", ""), "G90"},
        {"inverse-time feed", std::regex(modes_line), swap_words("G94", "G93"), "G94"},
        {"feed mode left out", std::regex(modes_line), swap_words(" G94", ""), "G94"},
        {"another work offset", std::regex(modes_line), swap_words("G54", "G55"), "G54"},
        {"work offset left out", std::regex(modes_line), swap_words("G54 ", ""), "G54"},
        {"length offset not called off", std::regex(modes_line), swap_words("G49 ", ""), "G49"},
        {"modes line dropped", std::regex(modes_line), drop, "G17"},
        {"two of one modal group", std::regex(modes_line), swap_words("G90", "G90 G91"), "one line"},
        {"incremental in the middle", std::regex(finishing), before("G91"), "G90"},
        {"inch in the middle", std::regex(to_seat), before("G20"), "G21"},
        {"plane changed in the middle", std::regex(to_seat), before("G19"), "G17"},
        {"offset changed in the middle", std::regex(to_seat), before("G56"), "G54"},
        {"a length offset in the middle", std::regex(over_mouth_line), before("G43 H3"), "G49"},
        {"a length offset in the middle, Z set anew", std::regex(over_mouth_line),
         swap_words("G1", "G43 H3 G1"), ""},
        {"an arc", std::regex(across_off_zero), swap_words("G0", "G2"), "G2"},
        {"machine coordinates", std::regex(up), swap_words("G0", "G53 G0"), "G53"},
        {"an offset set", std::regex(across), before("G92 X0"), "G92"},
        {"a letter twice", std::regex(across), swap_words("Y", "X5 Y"), "twice"},
        {"a letter of no use", std::regex(across), swap_words("Y", "A5 Y"), "letter A"},
        {"the letter O for a nought", std::regex(finishing), swap_words("0", "O"), ""},
        {"block delete", std::regex(finishing), swap_words("^", "/"), ""},
        {"a parameter", std::regex(finishing), swap_words("Z", "Z#1"), ""},
        {"a line too long", std::regex(finishing),
         [](Lines& l, std::size_t i) { l[i] += std::string(300, ' '); }, "256"},
        {"comment not closed", std::regex(naming), swap_words("\\)", ""), "not closed"},
        {"program end dropped", std::regex("M30"), drop, "no end"},
        {"something after the end", std::regex("M30"), after("G0 Z0"), "end"},
        {"an optional halt", std::regex(to_seat), before("M1"), "M1"},
        {"a per cent sign in a comment", std::regex(naming), swap_words("seat", "50 % of seat"), "'%'"},
        {"an exclamation mark in a comment", std::regex(naming), swap_words("seat", "seat!"), "'!'"},
        {"a tilde in a comment", std::regex(naming), swap_words("seat", "~seat"), "'~'"},
        {"a character of several bytes in a comment", std::regex(naming), swap_words("seat", "\xc2\xb5"),
         "plain mark"},
    };
}

std::vector<Damage> places_and_heights() {
    return {
        {"sign of X swapped", std::regex(across_off_zero), swap_words("X-?", "X-9"), "move"},
        {"X off by a hundredth", std::regex(to_seat), shift('X', 0.01), "is at X"},
        {"Y off by a hundredth", std::regex(to_seat), shift('Y', -0.01), "is at X"},
        {"X off by a whole spacing", std::regex(to_seat), shift('X', 112), "is at X"},
        {"X and Y exchanged", std::regex(across_off_zero),
         [](Lines& l, std::size_t i) {
             l[i] = std::regex_replace(l[i], std::regex("X(\\S+) Y(\\S+)"), "X$2 Y$1");
         },
         "move"},
        {"every place X0 Y0", std::regex("G0 X[1-9].* Y.*"), swap_words("X\\S+ Y\\S+", "X0.0000 Y0.0000"),
         "is at X"},
        {"Y word left out", std::regex("G0 X0.0000 Y0.0000"), swap_words(" Y\\S+", ""), "one axis"},
        {"point left out of X", std::regex(across_off_zero), swap_words("\\.", ""), "move"},
        {"move across dropped", std::regex(to_seat), drop, "beside seat"},
        {"move across as a feed", std::regex(to_seat), swap_words("G0", "G1"), "sideways"},
        {"retract dropped", std::regex(up), drop, ""},
        {"retract too low", std::regex(up), shift('Z', -20), "ends below the clear height"},
        {"retract beyond the clear height", std::regex(up), shift('Z', 40), "above the clear height"},
        {"retract slanting", std::regex(up), swap_words("$", " X5"), ""},
        {"sign of Z swapped", std::regex(finishing), swap_words("Z-", "Z"), "before seat"},
        {"seat a hundredth too deep", std::regex(finishing), shift('Z', -0.01), "ends at"},
        {"seat a hundredth too shallow", std::regex(finishing), shift('Z', 0.01), "where none is asked"},
        {"cut dropped", std::regex(finishing), drop, ""},
        {"sideways while down", std::regex(finishing), swap_words("$", " X5"), "across with the spindle"},
        {"sideways in the guide on the way out", std::regex(way_out), swap_words("$", " Y1"), "across"},
        {"spindle brought down as a rapid", std::regex(over_mouth_line), swap_words("G1", "G0"), "downwards"},
        {"rapid into the guide", std::regex(way_in), swap_words("G1", "G0"), "downwards"},
        {"rapid down on the seat", std::regex(finishing), swap_words("G1", "G0"), "downwards"},
        {"rapid out of the guide", std::regex(way_out), swap_words("G1", "G0"), ""},
        {"rapid off the seat", std::regex(lift_line), swap_words("G1", "G0"), ""},
        {"way down not stopped over the mouth", std::regex(over_mouth_line), drop, "above the mouth"},
        {"way down stopped too low", std::regex(over_mouth_line), shift('Z', -6), "not free"},
        {"way out stopped with the tip in the mouth", std::regex(way_out), shift('Z', -6), "in the guide"},
        {"approach left out", std::regex(way_in), drop, "is approached to"},
        {"approached too far", std::regex(way_in), shift('Z', -1), "without stopping"},
    };
}

std::vector<Damage> state_of_the_tool() {
    return {
        {"pilot let in with the spindle turning", std::regex(freeing), after("S100 M3"),
         "spindle is started"},
        {"spindle started over the mouth", std::regex(way_in), before("S215 M3"), "spindle is started"},
        {"spindle started at the clear height", std::regex(to_seat), before("S215 M3"), "no seat"},
        {"spindle start dropped", std::regex(start), drop, ""},
        {"spindle backwards", std::regex(start), swap_words("M3", "M4"), "backwards"},
        {"speed doubled", std::regex(start), scale('S', 2), "rpm"},
        {"speed beyond the machine", std::regex(start), shift('S', 5000), "rpm"},
        {"speed of the other form", std::regex(start), shift('S', -10), "planned at"},
        {"spindle stopped before a cut", std::regex(roughing), before("M5"), "not turning"},
        {"spindle stopped on the seat", std::regex(lift_line), before("M5"), "lies on seat"},
        {"spindle stop dropped", std::regex("M5"), drop, ""},
        {"spin-up wait left out", std::regex(start), [](Lines& l, std::size_t i) { drop(l, i + 1); },
         "up to speed"},
        {"spin-up wait too short", std::regex(start), [](Lines& l, std::size_t i) { l[i + 1] = "G4 P1.50"; },
         "up to speed"},
        {"spin-down wait left out", std::regex("M5"),
         after_cut([](Lines& l, std::size_t i) { drop(l, i + 1); }), "stands"},
        {"float not freed over the mouth", std::regex(way_in),
         [](Lines& l, std::size_t i) { drop(l, i - 1); }, "enters"},
        {"float not locked to cut", std::regex(way_in), [](Lines& l, std::size_t i) { drop(l, i + 1); },
         "not locked"},
        {"float not freed on the way out", std::regex(loosening),
         [](Lines& l, std::size_t i) { drop(l, i - 1); }, "comes out"},
        {"float not centred before a rapid", std::regex(up), [](Lines& l, std::size_t i) { drop(l, i - 2); },
         "a rapid over"},
        {"float not locked before a rapid", std::regex(up), [](Lines& l, std::size_t i) { drop(l, i - 1); },
         "a rapid over"},
        {"float neither centred nor locked before going across", std::regex(to_seat), before("M62 P1"),
         "not centred and locked"},
        {"float centred with the pilot in the guide", std::regex(loosening), before("M64 P1"),
         "centred with the pilot"},
        {"float locked half-way in", std::regex(way_in),
         [](Lines& l, std::size_t i) {
             l.insert(l.begin() + static_cast<std::ptrdiff_t>(i),
                      {"G1 Z40.0000 F300.00", "M63 P1", "M62 P1"});
         },
         "half-way"},
        {"float freed with the blade on the seat", std::regex(lift_line), before("M62 P1"), ""},
        {"float freed with the spindle turning", std::regex("M5"), after_cut(before("M62 P1")),
         "while the spindle turns"},
        {"float freed at the clear height", std::regex(over_mouth_line), before("M62 P1"), "above the mouth"},
        {"a float word of another control", std::regex(freeing), swap_words("P1", "P2"), "M62"},
        {"finishing feed left out", std::regex(roughing), drop, "finishing feed all the way"},
        {"finished at the cutting feed", std::regex(finishing), scale('F', 2.5), "planned"},
        {"cut to the stop at the cutting feed", std::regex(roughing),
         [](Lines& l, std::size_t i) {
             const std::string feed = l[i].substr(l[i].find('F'));
             drop(l, i);
             l[i] = l[i].substr(0, l[i].find('F')) + feed;
         },
         "not finished at the finishing feed"},
        {"cutting feed doubled", std::regex(roughing), scale('F', 2), "planned"},
        {"cutting feed halved", std::regex(roughing), scale('F', 0.5), "planned"},
        {"feed word left out", std::regex(roughing), swap_words(" F\\S+", ""), "planned"},
        {"pilot let in too fast", std::regex(way_in), scale('F', 4), "lets the pilot in"},
        {"approach too fast", std::regex(over_mouth_line), scale('F', 3), "comes down at"},
        {"taper broken loose too fast", std::regex(loosening), scale('F', 5), "draws the pilot out"},
        {"breaking loose left out", std::regex(loosening), drop, "draws the pilot out"},
        {"lift too fast", std::regex(lift_line), scale('F', 10), "lifts off"},
        {"lift left out", std::regex(lift_line), drop, "blade on seat"},
        {"cut again before it is left", std::regex(lift_line), after("G1 Z0.5000 F4.30"), "a second time"},
        {"speed changed while it turns", std::regex(roughing), before("S300"), "planned at"},
        {"up at a wild feed", std::regex(up), swap_words("G0 (Z.*)", "G1 $1 F5000"), "too fast"},
        {"lifted on with the spindle turning", std::regex(lift_line), shift('Z', 1),
         "goes on with the spindle"},
        {"spindle never stopped", std::regex("M5"), after_cut([](Lines& l, std::size_t i) {
             drop(l, i);
             drop(l, i);
             drop(l, i);
         }),
         "comes out"},
        {"spindle not stopped at the start", std::regex(modes_line),
         [](Lines& l, std::size_t i) { drop(l, i + 1); }, "before anything else"},
        {"spindle stopped only at the top", std::regex(modes_line),
         [](Lines& l, std::size_t i) { std::swap(l[i + 1], l[i + 2]); }, "before anything else"},
        {"rapid from the guide to the clear height", std::regex(way_out),
         [](Lines& l, std::size_t i) {
             drop(l, i);
             drop(l, i);
             drop(l, i);
         },
         "tip below the mouth"},
        {"drawn back from over the mouth", std::regex(over_mouth_line), after("G0 Z142.0000"), "drawn back"},
        {"dwell dropped", std::regex(dwell), drop, "before seat"},
        {"dwell a tenth as long", std::regex(dwell), scale('P', 0.1), "dwells"},
        {"dwell a hundred times as long", std::regex(dwell), scale('P', 100), "dwells"},
        {"dwell before the cut", std::regex(finishing), swap_with_next, ""},
        {"second dwell", std::regex(dwell), after("G4 P0.20"), "where none is asked"},
    };
}

std::vector<Damage> zeros_and_halts() {
    return {
        {"way to the top left out at the start", std::regex(modes_line),
         [](Lines& l, std::size_t i) { drop(l, i + 2); }, "before the way to the top"},
        {"way to the top left out at the end", std::regex("M30"),
         [](Lines& l, std::size_t i) { drop(l, i - 2); }, "without the way to the top"},
        {"Z0 not asked for", std::regex("\\(Z0 of cutter .*\\?\\)"), drop, "before Z0"},
        {"Z0 asked for of another cutter", std::regex("\\(Z0 of cutter .*\\?\\)"),
         swap_words("cutter [0-9]", "cutter 7"), "before Z0"},
        {"Z0 asked for on another seat", std::regex("\\(Z0 of cutter .*\\?\\)"),
         swap_words("on [0-9][EI]", "on 9X"), "before Z0"},
        {"Z0 asked for on a second seat too", std::regex("\\(Z0 of cutter .*\\?\\)"),
         after("(Z0 of cutter 2 taken on 9X of head 1?)"), "before Z0"},
        {"not asked whether Z0 still holds", std::regex("\\(Cutter .* not taken off.*"), drop, "before Z0"},
        {"Z0 asked for on another head", std::regex("\\(Z0 of cutter .*\\?\\)"),
         swap_words("head 1", "head 2"), "before Z0"},
        {"Z0 not asked but said", std::regex("\\(Z0 of cutter .*\\?\\)"), swap_words("\\?", "."),
         "before Z0"},
        {"Z0 asked for with another pilot", std::regex("\\(For Z0 pilot .*\\)"), swap_words("8.71", "8.73"),
         ""},
        {"the pilot for Z0 not named", std::regex("\\(For Z0 pilot .*\\)"), drop, ""},
        {"the clear height said with another sign", std::regex("\\(Clear height.*"), swap_words("Z ", "Z -"),
         "the clear height is"},
        {"another clear height said", std::regex("\\(Clear height.*"), swap_words("Z 1", "Z 2"),
         "the clear height is"},
        {"the tool looked at on another height", std::regex("\\(At Z .*look\\)"), swap_words("Z 1", "Z -1"),
         "look at the tool at"},
        {"the tool seen too high over the deck", std::regex("\\(At Z .*look\\)"),
         swap_words("stands [0-9.]+", "stands 90.0"), "over the deck"},
        {"the tool looked at elsewhere", std::regex("\\(At Z .*look\\)"), swap_words("at [0-9][EI]", "at 9X"),
         "over the deck"},
        {"the look left out", std::regex("\\(At Z .*look\\)"),
         [](Lines& l, std::size_t i) {
             drop(l, i);
             drop(l, i);
         },
         "was looked at"},
        {"moves before Z0 was asked for", std::regex(modes_line),
         [](Lines& l, std::size_t i) {
             l.insert(l.begin() + static_cast<std::ptrdiff_t>(i) + 3, "G1 Z142.0000 F300.00");
         },
         "before Z0"},
        {"after a halt straight across", std::regex(after_halt), drop, "across"},
        {"after a halt a rapid", std::regex(after_halt), swap_words("G1", "G0"), ""},
        {"after a halt too fast", std::regex(after_halt), scale('F', 3), "after a halt is at"},
        {"after a halt not to the clear height", std::regex(after_halt), shift('Z', -60),
         "straight to the clear height"},
        {"after a halt slanting up", std::regex(after_halt), swap_words("$", " X3"), "across"},
        {"a halt with the pilot in the guide", std::regex(loosening), before("M0"),
         "halts with the tool in a seat"},
        {"a halt with the pilot in the guide, sideways after it", std::regex(loosening),
         before("M0\nG0 X1 Y1"), "halts with the tool in a seat"},
        {"a halt with the spindle turning", std::regex(roughing), before("M0"), "spindle turning"},
        {"a halt that says nothing", std::regex("G0 Z142.*"), after("M0"), "what for"},
        {"a halt between seats, then across", std::regex(to_seat), before("(Look)\nM0"), "across"},
        {"a cutter changed in the middle", std::regex(naming), before("T2 M6"), "each file has its own"},
        {"a cutter changed down in a seat", std::regex(dwell), after("T1 M6"), "over a seat"},
        {"float locked by a halt where the control has a word", std::regex(locking),
         swap_words("M63 P1", "(Lock the float)\nM0"), "has a word"},
        {"ends elsewhere than where heads are loaded", std::regex("M30"),
         [](Lines& l, std::size_t i) { drop(l, i - 1); }, "loaded"},
        {"the way to the top from a guide", std::regex(loosening), before("G53 G0 Z0"),
         "begins below the clear"},
        {"the way to the top with the spindle turning", std::regex("M5"), before("G53 G0 Z0"), ""},
        {"ends with the float free", std::regex("M30"), before("M62 P1"), "ends with the float"},
        {"comment naming another valve", std::regex(naming), swap_words("valve \\S+,", "valve 9X,"),
         "naming it"},
        {"comment naming the valve dropped", std::regex(naming), drop, "naming it"},
    };
}

std::vector<Damage> damages() {
    std::vector<Damage> all;
    for (auto* list : {&modes_and_words, &places_and_heights, &state_of_the_tool, &zeros_and_halts})
        for (Damage& damage : (*list)()) all.push_back(std::move(damage));
    return all;
}

// A whole seat skipped, cut twice, or exchanged with its neighbour, in all places.
std::vector<std::pair<std::string, Lines>> seat_damages(const Lines& sound) {
    std::vector<std::size_t> starts;
    for (std::size_t i = 0; i < sound.size(); ++i)
        if (sound[i].rfind("(valve ", 0) == 0) starts.push_back(i);
    std::vector<std::pair<std::string, Lines>> damaged;
    for (const std::size_t s : starts) {
        std::size_t end = s;
        while (sound[end].rfind("G0 Z", 0) != 0) ++end;
        ++end;
        const auto at = [](std::size_t i) { return static_cast<std::ptrdiff_t>(i); };
        Lines skipped = sound;
        skipped.erase(skipped.begin() + at(s), skipped.begin() + at(end));
        damaged.emplace_back("seat skipped", skipped);
        Lines twice = sound;
        twice.insert(twice.begin() + at(end), sound.begin() + at(s), sound.begin() + at(end));
        damaged.emplace_back("seat cut twice", twice);
        if (end < sound.size() && sound[end].rfind("(valve ", 0) == 0) {
            std::size_t other = end;
            while (sound[other].rfind("G0 Z", 0) != 0) ++other;
            Lines exchanged = sound;
            std::rotate(exchanged.begin() + at(s), exchanged.begin() + at(end),
                        exchanged.begin() + at(other + 1));
            damaged.emplace_back("seats exchanged", exchanged);
        }
    }
    return damaged;
}

struct Case {
    job::Job job;
    Route route;
    Expected expected;
    std::string text;
    std::string fault(const std::string& program) const {
        const auto found = read_back(program, job, route, expected);
        return found ? found->text : std::string();
    }
};

std::vector<Case> sound_cases() {
    const auto p = fixtures::programmed(fixtures::programmed_job());
    std::vector<Case> cases;
    for (const Program& program : p.cut.programs)
        cases.push_back({p.job, program.route, p.expected(program), program.text});
    return cases;
}

TEST(Damage, TheSoundProgramsPass) {
    const auto cases = sound_cases();
    ASSERT_GE(cases.size(), 2u);
    for (const Case& c : cases) EXPECT_EQ(c.fault(c.text), "");
}

TEST(Damage, EveryKindIsRefusedInEveryPlaceByTheCheckMeantForIt) {
    std::map<std::string, int> places;
    for (const Case& c : sound_cases()) {
        const Lines sound = lines_of(c.text);
        for (const Damage& damage : damages()) {
            int& done = places[damage.what];
            for (std::size_t i = 0; i < sound.size(); ++i) {
                if (!std::regex_match(sound[i], damage.where)) continue;
                Lines lines = sound;
                damage.harm(lines, i);
                if (lines == sound) continue;
                ++done;
                const std::string fault = c.fault(text_of(lines));
                EXPECT_NE(fault, "") << damage.what << " at line " << i + 1 << ": " << sound[i];
                EXPECT_NE(fault.find(damage.says), std::string::npos)
                    << damage.what << " at line " << i + 1 << ": " << fault;
            }
        }
        for (const auto& [what, lines] : seat_damages(sound)) {
            EXPECT_NE(c.fault(text_of(lines)), "") << what;
            ++places[what];
        }
    }
    int done = 0;
    for (const auto& [what, count] : places) {
        EXPECT_GT(count, 0) << what;
        done += count;
    }
    EXPECT_GE(places.size(), 140u);
    EXPECT_GT(done, 500);
}

TEST(Damage, AnyLineLostIsRefusedUnlessItOnlySpeaks) {
    for (const Case& c : sound_cases()) {
        const Lines sound = lines_of(c.text);
        int refused = 0;
        for (std::size_t i = 0; i < sound.size(); ++i) {
            const bool speaks = sound[i][0] == '(' && sound[i].rfind("(valve", 0) != 0 &&
                                sound[i].find("?") == std::string::npos;
            if (speaks) continue;
            Lines lines = sound;
            drop(lines, i);
            EXPECT_NE(c.fault(text_of(lines)), "") << i + 1 << ": " << sound[i];
            ++refused;
        }
        EXPECT_GT(refused, 60);
    }
}

TEST(Damage, GarbageIsRefusedWithoutHarm) {
    const Case c = sound_cases().front();
    std::string text = c.text;
    std::uint32_t state = 12345;
    for (int i = 0; i < 3000; ++i) {
        state = state * 1664525u + 1013904223u;
        std::string damaged = text;
        const std::size_t at = (state >> 8) % damaged.size();
        const char was = damaged[at];
        damaged[at] = static_cast<char>(state >> 24);
        const auto fault = read_back(damaged, c.job, c.route, c.expected);
        // A changed character outside comments either leaves the meaning or is refused; it never crashes.
        if (was == damaged[at]) {
            EXPECT_FALSE(fault);
        }
    }
}

}  // namespace
}  // namespace seatwright::cut
