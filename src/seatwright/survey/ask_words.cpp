#include "seatwright/survey/ask_words.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "seatwright/survey/walk.hpp"
#include "seatwright/words/english_survey.hpp"

namespace seatwright::survey {
namespace {

using AskOf = Ask::Of;

constexpr std::array of_words{"setup", "deck level", "guide level", "deck", "hole",
                              "guide", "valve head", "way",         "size", "end"};

// The level setup is where a survey begins; it is not named.
bool tilted(const Ask& a) {
    return a.setup != level_setup;
}

bool across_the_head(const Ask& a) {
    return a.across == job::Across::incline;
}

Sentence place_on_deck(const Ask& a) {
    if (tilted(a)) return sentence<"ask-deck-anywhere">("setup"_is = a.setup);
    if (a.id == "1") return sentence<"ask-deck-first">();
    if (a.id == "2") return sentence<"ask-deck-last">();
    return sentence<"ask-deck-other-edge">();
}

Sentence hole_words(const Ask& a) {
    const auto which = a.id == "H1"   ? sentence<"hole-near-first">("hole"_is = a.id)
                       : a.id == "H2" ? sentence<"hole-far">("hole"_is = a.id)
                                      : sentence<"hole">("hole"_is = a.id);
    return tilted(a) ? sentence<"ask-hole-in">("setup"_is = a.setup, "hole"_is = which)
                     : sentence<"ask-hole">("hole"_is = which);
}

Sentence setup_words(const Ask& a) {
    if (!a.tilt) return sentence<"ask-setup">("guide"_is = a.id);
    // No minus before a nought.
    const auto near = [](double angle) {
        return as_degrees(std::round(deg(angle) * 10) / 10 * rad_per_deg + 0.0, 1);
    };
    constexpr double hardly = 0.5 * rad_per_deg;
    if (a.swing && std::abs(*a.swing) > hardly)
        return sentence<"ask-setup-swung">("guide"_is = a.id, "tilt"_is = near(*a.tilt),
                                           "swing"_is = near(*a.swing));
    return sentence<"ask-setup-near">("guide"_is = a.id, "tilt"_is = near(*a.tilt));
}

Sentence size_words(const Ask& a) {
    const auto guide = "guide"_is = a.id;
    switch (a.size) {
        case SizeOf::bore:
            return sentence<"ask-bore">(guide);
        case SizeOf::stem:
            return sentence<"ask-stem">(guide);
        case SizeOf::throat:
            return sentence<"ask-throat">(guide);
        case SizeOf::valve_head:
            return sentence<"ask-head-diameter">(guide);
        case SizeOf::face_width:
            return sentence<"ask-face-width">(guide);
        case SizeOf::guide_length:
            return sentence<"ask-guide-length">(guide);
        case SizeOf::to_seat:
            return sentence<"ask-to-seat">(guide);
        case SizeOf::below:
            return sentence<"ask-below">(guide);
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
    if (a.of == AskOf::setup) out = fmt::format("setup/{}", a.setup);
    if (a.of == AskOf::deck_level || a.of == AskOf::guide_level)
        out += a.across == job::Across::incline ? "/incline" : "/cant";
    if (a.of == AskOf::way && !across_the_head(a)) out += "/cant";
    if (a.of == AskOf::size) out += fmt::format("/{}", word_of(a.size));
    return out;
}

Sentence words_of(const Ask& a) {
    const auto guide = "guide"_is = a.id;
    const auto in = "setup"_is = a.setup;
    switch (a.of) {
        case AskOf::setup:
            return setup_words(a);
        case AskOf::deck_level:
            return across_the_head(a) ? sentence<"ask-deck-level-across">()
                                      : sentence<"ask-deck-level-along">();
        case AskOf::guide_level:
            return across_the_head(a) ? sentence<"ask-guide-level-across">(guide)
                                      : sentence<"ask-guide-level-along">(guide);
        case AskOf::deck:
            return place_on_deck(a);
        case AskOf::hole:
            return hole_words(a);
        case AskOf::guide:
            return tilted(a) ? sentence<"ask-guide-in">(in, guide) : sentence<"ask-guide">(guide);
        case AskOf::valve_head:
            return tilted(a) ? sentence<"ask-valve-head-in">(in, guide) : sentence<"ask-valve-head">(guide);
        case AskOf::way:
            return across_the_head(a) ? sentence<"ask-way">("letters"_is = a.id)
                                      : sentence<"ask-way-along">(guide);
        case AskOf::size:
            return size_words(a);
        case AskOf::end:
            return sentence<"ask-end">();
    }
    return {};
}

}  // namespace seatwright::survey
