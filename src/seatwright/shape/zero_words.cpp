#include "seatwright/shape/zero_words.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/words/english_shape.hpp"

namespace seatwright::shape {
namespace {

constexpr double no_sign = 5e-4;  // mm, half the last digit said

std::string id_of(const ZeroTask& task, std::size_t valve) {
    const auto seat = std::find_if(task.seats.begin(), task.seats.end(),
                                   [&](const ZeroSeat& s) { return s.valve == valve; });
    return seat == task.seats.end() ? std::string() : seat->id;
}

// A person at the machine has the readout; the head's own frame is only on the drawing.
Sentence place_words(const ZeroTask& task, const Zero& zero) {
    const Vec2 at = task.deck.at.value_or(Vec2::Zero());
    return sentence<"of-the-head">("place"_is = readout_words(zero.at), "x"_is = as_length(at.x()),
                                   "y"_is = as_length(at.y()));
}

Sentence feeler_words(const ZeroTask& task) {
    if (task.feeler <= 0) return {};
    return sentence<"zero-feeler">("feeler"_is = as_length(task.feeler));
}

Sentence pilot_words(const ZeroTask& task) {
    if (task.without_pilot) return sentence<"no-pilot-in">();
    return task.pilot.empty() ? sentence<"pilot-in">() : sentence<"zero-pilot">("pilot"_is = task.pilot);
}

}  // namespace

Sentence readout_words(const Vec2& at) {
    // No zero with a sign.
    const auto figure = [](double mm) { return as_length(std::abs(mm) < no_sign ? 0.0 : mm); };
    return sentence<"on-the-readout">("x"_is = figure(at.x()), "y"_is = figure(at.y()));
}

Sentence zero_words(const ZeroTask& task, const Zero& zero) {
    const auto skimmed = "skimmed"_is =
        task.deck.deck_cut > 0 ? sentence<"deck-skimmed">("by"_is = as_length(task.deck.deck_cut))
                               : Sentence();
    if (zero.on == ZeroOn::deck_point)
        return sentence<"zero-on-deck">("head"_is = task.head, skimmed, "place"_is = place_words(task, zero),
                                        "ball"_is = as_length(*task.deck.ball), "cutter"_is = task.number);
    if (zero.on == ZeroOn::block) {
        const Sentence where =
            task.deck.at ? sentence<"zero-at">("place"_is = place_words(task, zero)) : Sentence();
        return sentence<"zero-on-block">("cutter"_is = task.number, "block"_is = as_length(*task.deck.block),
                                         "head"_is = task.head, skimmed, "where"_is = where);
    }
    const std::string id = id_of(task, *zero.valve);
    if (zero.on == ZeroOn::finished_seat)
        return sentence<"zero-on-finished">("cutter"_is = task.number, "seat"_is = id, "head"_is = task.head,
                                            "pilot"_is = pilot_words(task), "feeler"_is = feeler_words(task));
    const Sentence unread = zero.rest ? Sentence() : sentence<"zero-face-unread">();
    return sentence<"zero-on-old">("cutter"_is = task.number, "seat"_is = id, "head"_is = task.head,
                                   "pilot"_is = pilot_words(task), "feeler"_is = feeler_words(task),
                                   "unread"_is = unread);
}

}  // namespace seatwright::shape
