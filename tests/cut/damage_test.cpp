// Programs damaged on purpose: every kind of damage is refused by the read-back, wherever it is done.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <functional>
#include <regex>
#include <set>
#include <sstream>

#include "seatwright/cut/program.hpp"
#include "seatwright/cut/readback.hpp"
#include "shaped.hpp"

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

// Places (line numbers) a kind of damage can be done at, and what it does there.
struct Damage {
    const char* what;
    std::regex where;
    std::function<void(Lines&, std::size_t)> harm;
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
void swap_with_next(Lines& lines, std::size_t i) {
    if (i + 1 < lines.size()) std::swap(lines[i], lines[i + 1]);
}

const char* const modes_line = "G17 .*G90.*";
const char* const across = "G0 X.* Y.*";
const char* const across_off_zero = "G0 X-?[0-9.]*[1-9][0-9.]* Y.*";
const char* const up = "G0 Z.*";
const char* const down = "G1 Z.*";
const char* const dwell = "G4 P.*";
const char* const start = "S[0-9]+ M3";
const char* const change = "T[0-9]+ M6";
const char* const naming = "\\(valve .*";

std::vector<Damage> damages() {
    return {
        {"plane left out", std::regex(modes_line), swap_words("G17 ", "")},
        {"wrong plane", std::regex(modes_line), swap_words("G17", "G18")},
        {"the other length unit", std::regex(modes_line), swap_words("G21", "G20")},
        {"length unit left out", std::regex(modes_line), swap_words("G21 ", "")},
        {"incremental for absolute", std::regex(modes_line), swap_words("G90", "G91")},
        {"absolute mode left out", std::regex(modes_line), swap_words("G90 ", "")},
        {"inverse-time feed", std::regex(modes_line), swap_words("G94", "G93")},
        {"feed mode left out", std::regex(modes_line), swap_words(" G94", "")},
        {"another work offset", std::regex(modes_line), swap_words("G54", "G55")},
        {"work offset left out", std::regex(modes_line), swap_words("G54 ", "")},
        {"modes line dropped", std::regex(modes_line), drop},
        {"two of one modal group", std::regex(modes_line), swap_words("G90", "G90 G91")},
        {"incremental in the middle", std::regex(down), before("G91")},
        {"inch in the middle", std::regex(across), before("G20")},
        {"plane changed in the middle", std::regex(across), before("G19")},
        {"offset changed in the middle", std::regex(across), before("G56")},
        {"sign of X swapped", std::regex(across_off_zero), swap_words("X", "X-")},
        {"X off by a hundredth", std::regex(across), shift('X', 0.01)},
        {"Y off by a hundredth", std::regex(across), shift('Y', -0.01)},
        {"X off by a whole spacing", std::regex(across), shift('X', 112)},
        {"X and Y exchanged", std::regex(across_off_zero),
         [](Lines& l, std::size_t i) {
             l[i] = std::regex_replace(l[i], std::regex("X(\\S+) Y(\\S+)"), "X$2 Y$1");
         }},
        {"Y word left out", std::regex("G0 X0.0000 Y0.0000"), swap_words(" Y\\S+", "")},
        {"point left out of X", std::regex(across_off_zero), swap_words("\\.", "")},
        {"move across dropped", std::regex(across_off_zero), drop},
        {"move across as a feed", std::regex(across), swap_words("G0", "G1")},
        {"retract dropped", std::regex(up), drop},
        {"retract too low", std::regex(up), shift('Z', -20)},
        {"retract at feed", std::regex(up), swap_words("G0", "G1")},
        {"retract beyond the clear height", std::regex(up), shift('Z', 40)},
        {"way down as a rapid", std::regex(down), swap_words("G1", "G0")},
        {"sign of Z swapped", std::regex("G1 Z-.*"), swap_words("Z-", "Z")},
        {"seat a hundredth too deep", std::regex("G1 Z-.*"), shift('Z', -0.01)},
        {"seat a hundredth too shallow", std::regex("G1 Z-.*"), shift('Z', 0.01)},
        {"cut dropped", std::regex("G1 Z-.*"), drop},
        {"cutting feed doubled", std::regex("G1 Z-.*"), scale('F', 2)},
        {"cutting feed halved", std::regex("G1 Z-.*"), scale('F', 0.5)},
        {"feed word left out", std::regex("G1 Z-.*"), swap_words(" F\\S+", "")},
        {"pilot let in too fast", std::regex("G1 Z44.*"), scale('F', 4)},
        {"pilot entry dropped", std::regex("G1 Z44.*"), drop},
        {"approach too fast", std::regex("G1 Z0.*"), scale('F', 3)},
        {"no step to the cutting feed", std::regex("G1 Z0.*"), drop},
        {"sideways while down", std::regex("G1 Z-.*"), swap_words("$", " X5")},
        {"dwell dropped", std::regex(dwell), drop},
        {"dwell a tenth as long", std::regex(dwell), scale('P', 0.1)},
        {"dwell a hundred times as long", std::regex(dwell), scale('P', 100)},
        {"dwell in milliseconds", std::regex(dwell), scale('P', 1000)},
        {"dwell before the cut", std::regex("G1 Z-.*"), swap_with_next},
        {"second dwell", std::regex(dwell), after("G4 P0.20")},
        {"spindle start dropped", std::regex(start), drop},
        {"spindle backwards", std::regex(start), swap_words("M3", "M4")},
        {"speed doubled", std::regex(start), scale('S', 2)},
        {"speed beyond the machine", std::regex(start), shift('S', 5000)},
        {"speed of the other form", std::regex(start), shift('S', -10)},
        {"spindle stopped before a cut", std::regex("G1 Z-.*"), before("M5")},
        {"spindle stopped over a seat", std::regex(naming), before("M5")},
        {"spindle stop dropped", std::regex("M5"), drop},
        {"cutter change dropped", std::regex(change), drop},
        {"wrong cutter", std::regex(change), shift('T', 1)},
        {"cutter changed down in a seat", std::regex(dwell), after("T1 M6")},
        {"comment naming another valve", std::regex(naming), swap_words("valve \\S+,", "valve 9X,")},
        {"comment naming the valve dropped", std::regex(naming), drop},
        {"comment not closed", std::regex(naming), swap_words("\\)", "")},
        {"program end dropped", std::regex("M30"), drop},
        {"something after the end", std::regex("M30"), after("G0 Z0")},
        {"a stop in the middle", std::regex(across), before("M0")},
        {"an arc", std::regex(across_off_zero), swap_words("G0", "G2")},
        {"machine coordinates", std::regex(up), swap_words("G0", "G53 G0")},
        {"an offset set", std::regex(across), before("G92 X0")},
        {"a letter twice", std::regex(across), swap_words("Y", "X5 Y")},
        {"a letter of no use", std::regex(across), swap_words("Y", "A5 Y")},
        {"the letter O for a nought", std::regex(down), swap_words("0", "O")},
        {"block delete", std::regex(down), swap_words("^", "/")},
        {"a parameter", std::regex(down), swap_words("Z", "Z#1")},
        {"a line too long", std::regex(down), [](Lines& l, std::size_t i) { l[i] += std::string(300, ' '); }},
        {"first move across before the height is known", std::regex(modes_line), after("G0 X0 Y0")},
    };
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
            Lines exchanged = sound;
            std::rotate(exchanged.begin() + at(s), exchanged.begin() + at(end),
                        exchanged.begin() + at(end + (end - s)));
            damaged.emplace_back("seats exchanged", exchanged);
        }
    }
    return damaged;
}

struct Case {
    job::Job job;
    Route route;
    std::string text;
};

Case sound_case() {
    const auto s = fixtures::shaped(fixtures::wedge_job());
    const Cut cut = s.plan();
    return {s.job, cut.programs.at(0).route, cut.programs.at(0).text};
}

TEST(Damage, TheSoundProgramPasses) {
    const Case c = sound_case();
    const auto fault = read_back(c.text, c.job, c.route);
    EXPECT_FALSE(fault) << fault->text;
}

TEST(Damage, EveryKindIsRefusedInEveryPlace) {
    const Case c = sound_case();
    const Lines sound = lines_of(c.text);
    std::set<std::string> kinds;
    int done = 0;
    for (const Damage& damage : damages()) {
        int places = 0;
        for (std::size_t i = 0; i < sound.size(); ++i) {
            if (!std::regex_match(sound[i], damage.where)) continue;
            Lines lines = sound;
            damage.harm(lines, i);
            if (lines == sound) continue;
            ++places;
            EXPECT_TRUE(read_back(text_of(lines), c.job, c.route))
                << damage.what << " at line " << i + 1 << ": " << sound[i];
        }
        EXPECT_GT(places, 0) << damage.what;
        kinds.insert(damage.what);
        done += places;
    }
    for (const auto& [what, lines] : seat_damages(sound)) {
        EXPECT_TRUE(read_back(text_of(lines), c.job, c.route)) << what;
        kinds.insert(what);
        ++done;
    }
    EXPECT_GE(kinds.size(), 70u);
    EXPECT_GT(done, 300);
}

TEST(Damage, AnyLineLostIsRefusedUnlessItOnlySpeaks) {
    for (const bool canned : {false, true}) {
        auto job = fixtures::pent_roof_job();
        job.dialect.canned_cycles = canned;
        const Cut cut = fixtures::shaped(job).plan();
        ASSERT_FALSE(cut.programs.empty());
        const Lines sound = lines_of(cut.programs[0].text);
        int refused = 0;
        for (std::size_t i = 0; i < sound.size(); ++i) {
            const bool speaks = sound[i][0] == '(' && sound[i].rfind("(valve", 0) != 0;
            // Coming down at the pilot's own slower feed all the way is allowed; so is a cycle left in force.
            const bool harmless = sound[i] == "G80" || (i > 0 && sound[i - 1].rfind("G0 X", 0) == 0);
            if (speaks || harmless) continue;
            Lines lines = sound;
            drop(lines, i);
            EXPECT_TRUE(read_back(text_of(lines), job, cut.programs[0].route)) << sound[i];
            ++refused;
        }
        EXPECT_GT(refused, 40);
    }
}

TEST(Damage, AJobTheMachineCannotReachIsRefused) {
    Case c = sound_case();
    c.job.machine.travel_x = 300;
    EXPECT_TRUE(read_back(c.text, c.job, c.route));
    c = sound_case();
    c.job.machine.travel_z = 100;
    EXPECT_TRUE(read_back(c.text, c.job, c.route));
    c = sound_case();
    c.job.machine.rpm_max = 250;
    EXPECT_TRUE(read_back(c.text, c.job, c.route));
    c = sound_case();
    c.job.machine.rpm_min = 400;
    EXPECT_TRUE(read_back(c.text, c.job, c.route));
}

TEST(Damage, GarbageIsRefusedWithoutHarm) {
    const Case c = sound_case();
    std::string text = c.text;
    std::uint32_t state = 12345;
    for (int i = 0; i < 3000; ++i) {
        state = state * 1664525u + 1013904223u;
        std::string damaged = text;
        const std::size_t at = (state >> 8) % damaged.size();
        const char was = damaged[at];
        damaged[at] = static_cast<char>(state >> 24);
        const auto fault = read_back(damaged, c.job, c.route);
        // A changed character outside comments either leaves the meaning or is refused; it never crashes.
        if (was == damaged[at]) {
            EXPECT_FALSE(fault);
        }
    }
}

}  // namespace
}  // namespace seatwright::cut
