#include "seatwright/cut/readback_asks.hpp"

#include <fmt/format.h>

#include <cctype>
#include <set>

#include "seatwright/cut/program.hpp"
#include "seatwright/cut/program_words.hpp"
#include "seatwright/cut/readback_words.hpp"

namespace seatwright::cut {

namespace {

int times(std::string_view text, std::string_view words) {
    int count = 0;
    for (std::size_t at = text.find(words); at != std::string_view::npos; at = text.find(words, at + 1))
        ++count;
    return count;
}

// "Z0 of cutter 1 taken on 1E of head 6?", one for each cutter; one for all where a ball took it. In a second
// file also whether it still holds.
std::vector<std::string> zero_questions(const job::Job& job, const Route& route) {
    std::vector<std::string> out;
    for (const CutterZero& zero : route.zeros) {
        const shape::Zero& taken = zero.taken;
        const std::string head = fmt::format(" of head {}", route.head);
        std::string question;
        if (taken.on == shape::ZeroOn::deck_point)
            question = fmt::format("Z0 taken by the ball on the deck{}, lengths of all cutters in?", head);
        else
            question = fmt::format(
                "Z0 of cutter {} taken on {}{}?", zero.cutter,
                taken.valve ? job.head.valves.at(*taken.valve).id : std::string("the block on the deck"),
                head);
        if (out.empty() || out.back() != question) out.push_back(std::move(question));
        if (const std::string place = place_of_zero(job, taken); !place.empty()) out.push_back(place);
        // The trim, and the first seat itself, belong to this Z0 and to none taken anew.
        if (route.part == FilePart::rest && job.machine.zero == job::ZeroKept::program)
            out.push_back(
                fmt::format("Cutter {} not taken off since its first seat was measured?", zero.cutter));
    }
    if (std::string deck = deck_question(job, route); !deck.empty()) out.push_back(std::move(deck));
    for (std::string& question : out) question = plain_words(question);
    return out;
}

bool asks_for_zero(std::string_view text, const job::Job& job, const Route& route) {
    const std::vector<std::string> questions = zero_questions(job, route);
    const std::vector<std::string> pilots = zero_pilot_phrases(job, route);
    for (const auto* phrases : {&questions, &pilots})
        for (const std::string& phrase : *phrases)
            if (!has_word(text, phrase)) return false;
    // And for that of no other cutter, on no other seat.
    int asked = 0;
    for (const std::string& question : questions) asked += times(question, "Z0 of cutter ");
    return !questions.empty() && times(text, "Z0 of cutter ") == asked;
}

std::string planted_list(const job::Job& job, const Route& route) {
    std::string list;
    std::set<std::size_t> named;
    for (const Stop& stop : route.stops)
        if (stop.pilot && named.insert(stop.valve).second)
            list +=
                fmt::format("{}{} in {}", list.empty() ? "" : ", ", job.pilots.at(*stop.pilot).name, stop.id);
    return plain_words(": " + list + "; nothing elsewhere");
}

std::optional<PilotPut> pilot_put(std::string_view text, const job::Job& job, const Route& route) {
    std::optional<PilotPut> found;
    for (std::size_t p = 0; p < job.pilots.size(); ++p)
        for (const CutterZero& zero : route.zeros) {
            const std::string phrase =
                plain_words(fmt::format("Put pilot {} in cutter {}", job.pilots[p].name, zero.cutter));
            if (!has_word(text, phrase)) continue;
            if (found) return std::nullopt;  // two of them
            found = PilotPut{p, zero.cutter};
        }
    return found;
}

}  // namespace

std::vector<std::string> zero_pilot_phrases(const job::Job& job, const Route& route) {
    std::vector<std::string> out;
    if (route.pilot == job::PilotUse::none) return out;
    for (const CutterZero& zero : route.zeros) {
        if (zero.taken.on == shape::ZeroOn::deck_point) continue;
        std::string phrase = "For Z0 ";
        if (!zero.taken.valve)
            phrase += "no pilot";
        else if (const std::string& guide = job.head.valves.at(*zero.taken.valve).id; zero.pilot)
            phrase += fmt::format("pilot {} in guide {}", job.pilots.at(*zero.pilot).name, guide);
        else
            phrase += "a pilot that fits guide " + guide;
        phrase += fmt::format(", cutter {}", zero.cutter);
        out.push_back(plain_words(phrase));
    }
    return out;
}

Asked asked_by(std::string_view text, const job::Job& job, const Route& route) {
    Asked asked;
    std::string low(text);
    for (char& c : low) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    if (has_word(low, "float")) {
        asked.free = has_word(low, "free");
        asked.centre = has_word(low, "centre");
        asked.lock = has_word(low, "lock");
    }
    asked.zero = asks_for_zero(text, job, route);
    const std::string list = planted_list(job, route);
    asked.planted = text.find("Planted before the start" + list) != std::string_view::npos ||
                    text.find("Planted after Z0" + list) != std::string_view::npos;
    asked.puts = low.find("put pilot") != std::string::npos;
    asked.put = pilot_put(text, job, route);
    asked.plants = text.find("Planted now" + list) != std::string_view::npos;
    asked.away = has_word(low, "away from the head");
    const double unit = job.program_unit() == LengthUnit::inch ? mm_per_inch : 1;
    if (has_word(text, "look")) {
        if (const auto z = number_after(text, "At Z ")) asked.look_at = unit * *z;
        if (const auto gap = number_after(text, " stands ")) asked.looks = unit * *gap;
    }
    return asked;
}

}  // namespace seatwright::cut
