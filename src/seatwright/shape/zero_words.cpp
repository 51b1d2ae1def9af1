#include "seatwright/shape/zero_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/length_words.hpp"

namespace seatwright::shape {
namespace {

constexpr double no_sign = 5e-4;  // mm, half the last digit said

std::string id_of(const ZeroTask& task, std::size_t valve) {
    const auto seat = std::find_if(task.seats.begin(), task.seats.end(),
                                   [&](const ZeroSeat& s) { return s.valve == valve; });
    return seat == task.seats.end() ? std::string() : seat->id;
}

// A person at the machine has the readout; the head's own frame is only on the drawing.
std::string place_words(const ZeroTask& task, const Zero& zero) {
    const Vec2 at = task.deck.at.value_or(Vec2::Zero());
    return fmt::format("{}, which is X {}, Y {} of the head", readout_words(zero.at, task.unit),
                       length_words(at.x(), task.unit), length_words(at.y(), task.unit));
}

std::string feeler_words(const ZeroTask& task) {
    if (task.feeler <= 0) return {};
    return fmt::format("; feeler {} between blade and seat", length_words(task.feeler, task.unit));
}

std::string pilot_words(const ZeroTask& task) {
    if (task.without_pilot) return "no pilot in";
    return task.pilot.empty() ? "pilot in" : fmt::format("pilot {} in", task.pilot);
}

}  // namespace

std::string readout_words(const Vec2& at, LengthUnit unit) {
    // No zero with a sign.
    const auto figure = [&](double mm) { return length_words(std::abs(mm) < no_sign ? 0.0 : mm, unit); };
    return fmt::format("X {}, Y {} on the readout", figure(at.x()), figure(at.y()));
}

std::string zero_words(const ZeroTask& task, const Zero& zero) {
    if (zero.on == ZeroOn::deck_point)
        return fmt::format(
            "Z0 taken on the deck of head {} at {}: ball of radius {} resting on the deck, brushed clean; "
            "the length of cutter {} is the one from the ball's lowest point to its lowest edge",
            task.head, place_words(task, zero), length_words(*task.deck.ball, task.unit), task.number);
    if (zero.on == ZeroOn::block) {
        const std::string where = task.deck.at ? " at " + place_words(task, zero) : std::string();
        return fmt::format(
            "Z0 of cutter {} taken on a block of {} on the deck of head {}{}: pilot taken out, spindle "
            "stopped, the cutter's lowest edge on the block, deck and block brushed clean",
            task.number, length_words(*task.deck.block, task.unit), task.head, where);
    }
    const std::string id = id_of(task, *zero.valve);
    if (zero.on == ZeroOn::finished_seat)
        return fmt::format(
            "Z0 of cutter {} taken on {} of head {}: cutter resting on the finished seat, {}, spindle "
            "stopped, turn the blade by hand until it just drags; seat brushed clean{}",
            task.number, id, task.head, pilot_words(task), feeler_words(task));
    std::string words = fmt::format(
        "Z0 of cutter {} taken on {} of head {}: cutter resting on the old seat, {}, spindle stopped, "
        "turn the blade by hand until it just drags at its highest place; seat brushed clean{}",
        task.number, id, task.head, pilot_words(task), feeler_words(task));
    if (!zero.rest)
        words +=
            ". The old face was not read: the cutter will stop short by as much as the old seat is wider; "
            "trim after the first seat";
    return words;
}

}  // namespace seatwright::shape
