#include "seatwright/shape/first_read.hpp"
#include "seatwright/job/allowance.hpp"
#include "seatwright/job/of_head.hpp"

#include <algorithm>
#include <numbers>

namespace seatwright::shape {

namespace {

// The last reading before cutting that has the figure; null if none has.
const job::SeatBefore* before_with(const job::Job& job, const std::string& head, const std::string& valve,
                                   std::optional<double> job::SeatBefore::*figure) {
    const job::SeatBefore* found = nullptr;
    for (const job::SeatBefore& reading : job::of_head(job.readings.seats, head))
        if (reading.valve == valve && reading.*figure) found = &reading;
    return found;
}

}  // namespace

double short_by(const job::CutRules& rules, double depth) {
    return std::clamp(depth - least_first_cut, 0.0, rules.first_short);
}

// With the same valve before and after the difference is the depth; without a reading before, the finished
// height counts from the drawing's.
FirstPlanned first_planned(const job::Job& job, const std::string& head, const job::Valve& valve,
                           const SeatAsPlanned& seat, double short_by) {
    const auto& form = job.seat[valve.kind];
    FirstPlanned planned;
    planned.depth = seat.depth;
    planned.short_by = short_by;
    planned.axis = valve.axis().z();
    const auto read_before = [&](std::optional<double> job::SeatBefore::*figure) {
        return seat.depth_known ? before_with(job, head, valve.id, figure) : nullptr;
    };
    if (const auto* before = read_before(&job::SeatBefore::stem_height))
        planned.stem_height = *before->stem_height + seat.depth;
    else if (form && form->stem_height)
        planned.stem_height = *form->stem_height - seat.stop;
    const double q = job.depth.deck_cut;
    if (const auto* before = read_before(&job::SeatBefore::below_deck))
        planned.below_deck =
            *before->below_deck - (before->after_deck_cut ? 0 : q) + seat.depth * planned.axis;
    else if (form && form->below_deck)
        planned.below_deck = *form->below_deck - q - seat.stop * planned.axis;
    return planned;
}

std::optional<double> shall_read(const FirstPlanned& planned, job::FirstFigure figure) {
    switch (figure) {
        case job::FirstFigure::depth:
            return planned.depth - planned.short_by;
        case job::FirstFigure::stem_height:
            if (planned.stem_height) return *planned.stem_height - planned.short_by;
            break;
        case job::FirstFigure::below_deck:
            if (planned.below_deck) return *planned.below_deck - planned.short_by * planned.axis;
            break;
    }
    return std::nullopt;
}

double mm_per_depth(const FirstPlanned& planned, job::FirstFigure figure) {
    return figure == job::FirstFigure::below_deck ? planned.axis : 1;
}

job::FirstFigure read_by(const job::FirstSeat& reading) {
    return reading.depth         ? job::FirstFigure::depth
           : reading.stem_height ? job::FirstFigure::stem_height
                                 : job::FirstFigure::below_deck;
}

double figure_read(const job::FirstSeat& reading) {
    return reading.depth.value_or(reading.stem_height.value_or(reading.below_deck.value_or(0)));
}

std::string_view word_of(job::FirstFigure figure) {
    switch (figure) {
        case job::FirstFigure::stem_height:
            return "stem_height";
        case job::FirstFigure::below_deck:
            return "below_deck";
        case job::FirstFigure::depth:
            break;
    }
    return "depth";
}

std::optional<FirstMeasured> measured(const job::FirstSeat& reading, const FirstPlanned& planned) {
    const job::FirstFigure figure = read_by(reading);
    const auto now = shall_read(planned, figure);
    if (!now) return std::nullopt;
    const double read = figure_read(reading);
    const double off_now = (read - *now) / mm_per_depth(planned, figure);
    FirstMeasured out;
    out.depth = planned.depth - planned.short_by + off_now;
    out.e = reading.planned ? (read - *reading.planned) / mm_per_depth(planned, figure) : off_now;
    out.u = 2 * std::numbers::sqrt2 * reading.gauge_u.value_or(first_gauge_sd);
    return out;
}

const job::FirstSeat* first_reading(const job::Job& job, const std::string& head, const std::string& valve) {
    const job::FirstSeat* found = nullptr;
    for (const job::FirstSeat& reading : job::of_head(job.readings.firsts, head))
        if (reading.valve == valve) found = &reading;
    return found;
}

LargeTrim large_trim(const job::Job& job, const std::string& valve) {
    return job::allowance_of(job, "trim " + valve) != nullptr ? LargeTrim::allowed : LargeTrim::held_back;
}

}  // namespace seatwright::shape
