#include "seatwright/cut/program_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include "seatwright/cut/program.hpp"
#include "seatwright/shape/zero_words.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::cut {

namespace {

// A title longer than this leaves no room for what follows it.
constexpr std::size_t longest_title = 60;
constexpr int said_decimals_mm = 3, said_decimals_inch = 4;

bool plain(char c) {
    return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
           std::string_view(" .,:+-=/'?").find(c) != std::string_view::npos;
}

// Bytes that go on with a character of several.
bool goes_on(char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

std::string part_words(const Route& route) {
    if (route.part == FilePart::first) return "the first seat, cut short";
    if (route.part == FilePart::rest) return "the first seat to its depth, then the rest";
    return "all its seats";
}

// "8.71 in 1I, 8.73 in 2I"
std::string planted_list(const job::Job& job, const Route& route) {
    std::vector<std::string> planted;
    for (const Stop& stop : route.stops) {
        if (!stop.pilot) continue;
        std::string one = fmt::format("{} in {}", job.pilots.at(*stop.pilot).name, stop.id);
        if (std::find(planted.begin(), planted.end(), one) == planted.end())
            planted.push_back(std::move(one));
    }
    return fmt::format("{}; nothing elsewhere", fmt::join(planted, ", "));
}

// What stands in the guide Z0 is taken in, and what in the others.
void pilots(const job::Job& job, const Route& route, Sentences& out) {
    if (route.pilot == job::PilotUse::none) {
        out.emplace_back("No pilot: the spindle alone gives the axis");
        return;
    }
    for (const CutterZero& zero : route.zeros) {
        if (zero.taken.on == shape::ZeroOn::deck_point) continue;
        const std::string guide =
            zero.taken.valve ? "guide " + job.head.valves.at(*zero.taken.valve).id : std::string();
        const std::string pilot = zero.pilot
                                      ? fmt::format("pilot {} in {}", job.pilots.at(*zero.pilot).name, guide)
                                  : guide.empty() ? "no pilot"
                                                  : "a pilot that fits " + guide;
        out.push_back(fmt::format("For Z0 {}, cutter {}", pilot, zero.cutter));
    }
    if (route.pilot == job::PilotUse::planted)
        out.push_back(fmt::format("Planted {}: {}", planted_for_zero(route) ? "before the start" : "after Z0",
                                  planted_list(job, route)));
}

void trims(const Route& route, const job::Job& job, Sentences& out) {
    const bool inch = job.program_unit() == LengthUnit::inch;
    for (const CutterZero& zero : route.zeros) {
        if (zero.trim == 0) continue;
        out.push_back(fmt::format("Cutter {}: trim {:+.4f} is in this file: do not move Z0", zero.cutter,
                                  inch ? zero.trim / mm_per_inch : zero.trim));
    }
}

}  // namespace

std::string plain_words(std::string_view words) {
    std::string safe;
    for (const char c : words)
        if (!goes_on(c)) safe.push_back(c == ';' ? ',' : plain(c) ? c : '-');
    return safe;
}

std::string comment_words(std::string_view words) {
    return plain_words(words).substr(0, longest_comment);
}

std::string said(const job::Job& job, double mm) {
    const bool inch = job.program_unit() == LengthUnit::inch;
    std::string digits =
        fmt::format("{:.{}f}", inch ? mm / mm_per_inch : mm, inch ? said_decimals_inch : said_decimals_mm);
    digits.erase(digits.find_last_not_of('0') + 1);
    if (digits.back() == '.') digits.pop_back();
    if (digits == "-0") digits = "0";
    return digits + (inch ? " in" : " mm");
}

std::string cutter_words(const job::Job& job, const Tool& tool) {
    return fmt::format("cutter {}: {}, blades set to {}", tool.number, job.cutters.at(tool.cutter).name,
                       said(job, tool.blade_setting));
}

std::string which_file(const job::Job& job, const hold::Setup& setup, const Route& route) {
    std::string words =
        fmt::format("{}, head {}, setup {}", job.title.substr(0, longest_title), route.head, setup.id);
    if (route.zeros.size() == 1 && !route.stops.empty())
        words += ", cutter " + job.cutters.at(route.stops.front().tool.cutter).name;
    if (!route.date.empty()) words += ", " + route.date;
    if (!route.digest.empty()) words += ", " + route.digest;
    return words;
}

Sentences top_comments(const job::Job& job, const hold::Setup& setup, const Route& route) {
    Sentences out{"Seatwright: " + which_file(job, setup, route)};
    const auto say = [&](std::string sentence) { out.push_back(std::move(sentence)); };
    if (route.zeros.size() == 1 && !route.stops.empty())
        say(fmt::format("{}; {}", cutter_words(job, route.stops.front().tool), part_words(route)));
    if (!route.only.empty()) say(fmt::format("Only {}", fmt::join(route.only, ", ")));
    if (route.from) say(fmt::format("From {} on, with a new blade", *route.from));
    if (!route.restart.empty()) say(in_words(route.restart, {job.units}));
    if (!route.held_back.empty())
        say(fmt::format("Held back, {}: {}", route.draft ? "here for looking only" : "not in this file",
                        fmt::join(route.held_back, ", ")));
    trims(route, job, out);
    say(fmt::format("Tilt {:.3f} deg, swing {:.3f} deg", deg(setup.tilt), deg(setup.swing)));
    const std::string& datum = job.head.valves.at(setup.datum).id;
    if (route.datum_at)
        say(fmt::format(
            "X, Y: the readout as it stood at the touches, not zeroed since: over guide {} it shows "
            "X {} Y {}",
            datum, said(job, route.datum_at->x()), said(job, route.datum_at->y())));
    else
        say(fmt::format("X0 Y0: the readout zeroed over guide {}", datum));
    for (const CutterZero& zero : route.zeros) say(in_words(zero.taken.words, {job.units}));
    say(route.from_touches
            ? fmt::format("X, Y: positions found from the touches on head {}", route.head)
            : std::string("X, Y: the map, from the drawing; no guide of this setup was touched"));
    pilots(job, route, out);
    say(fmt::format("Clear height Z {}; feeds a minute", said(job, job.machine.z_sign * route.clear)));
    say("Keep hands off the tool; glasses on; run it above the work first");
    return out;
}

Sentences zero_question(const job::Job& job, const hold::Setup& setup, const Route& route) {
    Sentences out{which_file(job, setup, route)};
    out.push_back(setup.swing == 0 ? fmt::format("Fixture at tilt {:.2f} deg", deg(setup.tilt))
                                   : fmt::format("Fixture at tilt {:.2f} deg, swing {:.2f} deg",
                                                 deg(setup.tilt), deg(setup.swing)));
    pilots(job, route, out);
    std::vector<std::string> asked;
    if (std::string deck = deck_question(job, route); !deck.empty()) out.push_back(std::move(deck));
    for (const CutterZero& zero : route.zeros) {
        const auto& taken = zero.taken;
        const std::string cutter = fmt::format("Z0 of cutter {} taken on ", zero.cutter);
        std::string question;
        if (taken.valve)
            question =
                fmt::format("{}{} of head {}?", cutter, job.head.valves.at(*taken.valve).id, route.head);
        else if (taken.on == shape::ZeroOn::block)
            question = fmt::format("{}the block on the deck of head {}?", cutter, route.head);
        else
            question = fmt::format("Z0 taken by the ball on the deck of head {}, lengths of all cutters in?",
                                   route.head);
        if (std::find(asked.begin(), asked.end(), question) != asked.end()) continue;
        asked.push_back(question);
        if (const std::string place = place_of_zero(job, taken); !place.empty()) asked.push_back(place);
    }
    out.insert(out.end(), asked.begin(), asked.end());
    // What its first seat says of Z0 is gone with it.
    if (route.part == FilePart::rest && job.machine.zero == job::ZeroKept::program)
        out.push_back(fmt::format("Cutter {} not taken off since its first seat was measured?",
                                  route.zeros.front().cutter));
    trims(route, job, out);
    return out;
}

Sentences look_at_tip(const job::Job& job, const Route& route, int cutter) {
    const std::string& look = zero_of(route, cutter).look;
    const std::string there = said(job, job.machine.z_sign * route.clear);
    // Where it is looked at is not where a change of pilot left it.
    const auto& taken = zero_of(route, cutter).taken;
    const std::string over = look.empty()  ? std::string()
                             : taken.valve ? fmt::format(" over {},", job.head.valves.at(*taken.valve).id)
                                           : std::string(" over where Z0 was taken,");
    Sentences out;
    if (taken.on == shape::ZeroOn::block) out.emplace_back("Take the block off the deck");
    out.push_back(fmt::format("Bring the tool by hand, slowly,{} to Z {}", over, there));
    out.push_back(
        fmt::format("At Z {} {}: look", there, look.empty() ? "the tool stands clear of everything" : look));
    return out;
}

std::string deck_question(const job::Job& job, const Route& route) {
    const bool from_it = std::any_of(route.zeros.begin(), route.zeros.end(),
                                     [](const CutterZero& zero) { return !zero.taken.valve; }) ||
                         std::any_of(route.stops.begin(), route.stops.end(), [](const Stop& stop) {
                             return stop.short_cut && stop.reads.by == ShallRead::By::below_deck;
                         });
    if (job.depth.deck_cut <= 0 || !from_it) return {};
    return fmt::format("{} off the deck already?", said(job, job.depth.deck_cut));
}

std::string place_of_zero(const job::Job& job, const shape::Zero& zero) {
    const bool on_block = zero.on == shape::ZeroOn::block;
    if (zero.valve || (on_block && !job.depth.deck_at)) return {};
    return fmt::format("{} at {}", on_block ? "Block" : "Ball",
                       in_words(shape::readout_words(zero.at), {job.units}));
}

bool planted_for_zero(const Route& route) {
    return std::all_of(route.zeros.begin(), route.zeros.end(), [&](const CutterZero& zero) {
        return std::any_of(route.stops.begin(), route.stops.end(), [&](const Stop& stop) {
            return zero.pilot && stop.pilot == zero.pilot && stop.valve == zero.taken.valve;
        });
    });
}

Sentences plant_now(const job::Job& job, const Route& route) {
    return {"Planted now: " + planted_list(job, route)};
}

Sentences put_pilot(const job::Job& job, const Stop& stop) {
    return {fmt::format("Put pilot {} in cutter {}", job.pilots.at(*stop.pilot).name, stop.tool.number)};
}

Sentences measure_first(const job::Job& job, const Route& route) {
    Sentences out;
    for (std::size_t i = 0; i <= *route.measure_after; ++i) {
        const Stop& stop = route.stops.at(i);
        out.push_back(fmt::format("Measure seat {} of head {}: {}", stop.id, route.head,
                                  reading_words(stop, [&](double mm) { return said(job, mm); })));
    }
    const bool several = out.size() > 1;
    if (route.part == FilePart::first)
        out.emplace_back("Type what was read, then take the second file");
    else if (job.machine.zero == job::ZeroKept::offsets)
        out.push_back(fmt::format("Change the length{} by what the card says, then go on",
                                  several ? "s of the cutters" : " of the cutter"));
    else
        out.emplace_back("Move Z0 by what the card says, then go on");
    return out;
}

std::string reading_words(const Stop& stop, const std::function<std::string(double)>& length) {
    switch (stop.reads.by) {
        case ShallRead::By::depth:
            return fmt::format("it should have come {} deep", length(stop.reads.value));
        case ShallRead::By::stem_height:
            return fmt::format(
                "its old height was not read, so its depth says nothing: its stem height with the setting "
                "valve should be {}",
                length(stop.reads.value));
        case ShallRead::By::below_deck:
            return fmt::format(
                "its old height was not read, so its depth says nothing: its valve should lie {} below the "
                "deck",
                length(stop.reads.value));
        case ShallRead::By::nothing:
            break;
    }
    return "its old height was not read and no drawing height is known, so no reading tells where Z is: give "
           "stem_height or below_deck of its form";
}

Sentences in_lines(const Sentences& sentences) {
    Sentences out;
    for (const std::string& sentence : sentences) {
        std::string_view rest = sentence;
        while (rest.size() > longest_comment) {
            std::size_t at = rest.rfind(' ', longest_comment);
            if (at == std::string_view::npos || at == 0) at = longest_comment;
            out.emplace_back(rest.substr(0, at));
            rest.remove_prefix(at);
            while (!rest.empty() && rest.front() == ' ') rest.remove_prefix(1);
        }
        if (!rest.empty()) out.emplace_back(rest);
    }
    return out;
}

}  // namespace seatwright::cut
