#include "seatwright/survey/ask_words.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "seatwright/survey/walk.hpp"

namespace seatwright::survey {
namespace {

using Of = Ask::Of;

constexpr std::array of_words{"setup", "deck level", "guide level", "deck", "hole",
                              "guide", "valve head", "way",         "size"};

const char* lies(job::Across across) {
    return across == job::Across::incline ? "across the head" : "along the head";
}

std::string in_setup(const Ask& a) {
    return a.setup == level_setup ? "" : fmt::format("Setup {}: ", a.setup);
}

std::string begun(std::string text) {
    if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text;
}

std::string place_on_deck(const Ask& a) {
    if (a.setup != level_setup) return "anywhere on the deck";
    if (a.id == "1") return "on the deck near the first cylinder";
    if (a.id == "2") return "on the deck near the last cylinder";
    return "on the deck at its other edge";
}

std::string hole(const Ask& a) {
    const std::string which = a.id == "H1"   ? "bolt hole H1, near the first cylinder"
                              : a.id == "H2" ? "bolt hole H2, the far one of the same row"
                                             : fmt::format("hole {}", a.id);
    return begun(fmt::format("{}the ball on the rim of {}; type X, Y and Z.", in_setup(a), which));
}

std::string setup(const Ask& a) {
    std::string near;
    if (a.tilt) near = fmt::format(", near {:.1f}°", deg(*a.tilt) + 0.0);
    constexpr double hardly = 0.5 * rad_per_deg;
    if (a.swing && std::abs(*a.swing) > hardly)
        near += fmt::format(" and swing {:.1f}°", deg(*a.swing) + 0.0);
    return fmt::format("Tilt until the pilot in {} stands plumb{}; type what the sensor shows.", a.id, near);
}

std::string size(const Ask& a) {
    switch (a.size) {
        case SizeOf::bore:
            return fmt::format("Type the bore of guide {}.", a.id);
        case SizeOf::stem:
            return fmt::format("Type the stem diameter of the valve of {}.", a.id);
        case SizeOf::throat:
            return fmt::format("Type the throat diameter under the seat of {}.", a.id);
        case SizeOf::valve_head:
            return fmt::format("Type the head diameter of the valve of {}.", a.id);
        case SizeOf::face_width:
            return fmt::format("Type the width of the old face of {}.", a.id);
        case SizeOf::guide_length:
            return fmt::format("Type the length of guide {}.", a.id);
        case SizeOf::to_seat:
            return fmt::format("Type how far the seat of {} lies over the top of its guide.", a.id);
        case SizeOf::below:
            return fmt::format("Type the free room under guide {}.", a.id);
    }
    return {};
}

}  // namespace

const char* word_of(Ask::Of of) {
    return of_words[static_cast<std::size_t>(of)];
}

std::string key_of(const Ask& a) {
    std::string out = word_of(a.of);
    for (const auto& part : {a.setup, a.id})
        if (!part.empty()) out += "/" + part;
    if (a.of == Of::setup) out = fmt::format("setup/{}", a.setup);
    if (a.of == Of::deck_level || a.of == Of::guide_level)
        out += a.across == job::Across::incline ? "/incline" : "/cant";
    if (a.of == Of::size) out += fmt::format("/{}", word_of(a.size));
    return out;
}

std::string words_of(const Ask& a) {
    switch (a.of) {
        case Of::setup:
            return setup(a);
        case Of::deck_level:
            return fmt::format(
                "Deck nearly level: the sensor on it {}; type it, turn it half a turn, type it again.",
                lies(a.across));
        case Of::guide_level:
            return fmt::format(
                "Pilot into {}, the sensor on it {}; type it, turn it half a turn, type it again.", a.id,
                lies(a.across));
        case Of::deck:
            return begun(fmt::format("{}the stylus {}; type X, Y and Z.", in_setup(a), place_on_deck(a)));
        case Of::hole:
            return hole(a);
        case Of::guide:
            return fmt::format("{}Bring the pilot over {}; type X and Y.", in_setup(a), a.id);
        case Of::valve_head:
            return fmt::format("{}Setting valve into {}, the stylus on the middle of its head; type Z.",
                               in_setup(a), a.id);
        case Of::way:
            return fmt::format(
                "Which way do the guides {} lean? Look along the head from its first cylinder, deck up.",
                a.id);
        case Of::size:
            return size(a);
    }
    return {};
}

}  // namespace seatwright::survey
