#include "seatwright/cut/restart.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/words/english_cut.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

namespace seatwright::cut {
namespace {

// Figures that people type have at most four decimals; below this two of them are the same.
constexpr double same_place = 1e-9;

SeatState state_of(const SeatSaid& seat, std::size_t place, std::optional<std::size_t> broke) {
    if (broke == place) return SeatState::begun;
    if (seat.cut) return seat.good ? SeatState::good : SeatState::measure_again;
    return broke && place < *broke ? SeatState::measure_again : SeatState::left;
}

double runout_of(const job::SeatAfter& after) {
    if (after.runout) return *after.runout;
    const auto [low, high] = std::minmax_element(after.trace.begin(), after.trace.end());
    return *high - *low;
}

bool width_good(const job::SeatForm& form, double width) {
    return !form.width_tol || std::abs(width - form.width) <= *form.width_tol + same_place;
}

bool stem_good(const job::SeatForm& form, double stem) {
    return (!form.stem_height_max || stem <= *form.stem_height_max + same_place) &&
           (!form.stem_height_min || stem >= *form.stem_height_min - same_place);
}

}  // namespace

Restart restart_of(const std::vector<SeatSaid>& order, std::optional<std::size_t> broke) {
    Restart out;
    for (std::size_t i = 0; i < order.size(); ++i) {
        const SeatSaid& seat = order[i];
        const SeatState state = state_of(seat, i, broke);
        out.seats.push_back({seat.valve, seat.id, state, seat.old.has_value()});
        if (state == SeatState::good && seat.finished) out.finished_on = seat.valve;  // the last one stays
        if (state == SeatState::left && seat.old && !out.touch_on) out.touch_on = seat.valve;
    }
    if (out.finished_on) out.touch_on.reset();
    return out;
}

bool Restart::may_touch(std::size_t valve) const {
    return std::any_of(seats.begin(), seats.end(), [&](const Seat& seat) {
        return seat.valve == valve && seat.state == SeatState::left && seat.height_known;
    });
}

Sentence Restart::words() const {
    std::vector<Sentence> parts;
    const auto say = [&](SeatState state, auto&& of) {
        List ids{Join::commas, {}};
        for (const Seat& seat : seats)
            if (seat.state == state) ids.items.emplace_back(seat.id);
        if (!ids.items.empty()) parts.push_back(of(std::move(ids)));
    };
    say(SeatState::good, [](List ids) { return sentence<"restart-good">("seats"_is = std::move(ids)); });
    say(SeatState::measure_again,
        [](List ids) { return sentence<"restart-measure-again">("seats"_is = std::move(ids)); });
    say(SeatState::begun, [](List ids) { return sentence<"restart-begun">("seats"_is = std::move(ids)); });
    say(SeatState::left, [](List ids) { return sentence<"restart-left">("seats"_is = std::move(ids)); });
    return parts.empty() ? Sentence() : clauses(std::move(parts));
}

FirstsOfOld firsts_of_old(const job::Job& job, const std::string& head, const std::vector<std::string>& seats,
                          const std::string& broke) {
    FirstsOfOld out{job.readings.firsts, std::nullopt};
    const auto of_these = [&](const job::FirstSeat& reading) {
        return reading.head == head && std::find(seats.begin(), seats.end(), reading.valve) != seats.end();
    };
    const auto last = std::find_if(out.old.rbegin(), out.old.rend(), of_these);
    if (last == out.old.rend()) return out;
    const auto same_seat = [&](const job::FirstSeat& reading) {
        return reading.head == head && reading.valve == broke;
    };
    if (last->valve == broke && std::count_if(out.old.begin(), out.old.end(), same_seat) < 2) return out;
    out.perhaps_new = last->valve;
    out.old.erase(std::next(last).base());
    return out;
}

AfterReading after_reading(const job::Job& job, const std::string& head, const std::string& valve,
                           const job::SeatForm& form) {
    AfterReading out;
    std::optional<double> runout, stem;
    std::vector<double> widths;
    for (const job::SeatAfter& after : job::of_head(job.readings.proofs, head)) {
        if (after.valve != valve) continue;
        out.cut = true;
        if (after.runout || !after.trace.empty()) runout = runout_of(after);
        if (!after.width.empty()) widths = after.width;
        if (after.stem_height) stem = after.stem_height;
    }
    out.stem_height = stem;
    const bool any = runout || stem || !widths.empty();
    const bool round = !runout || !form.runout_max || *runout <= *form.runout_max + same_place;
    const bool wide =
        std::all_of(widths.begin(), widths.end(), [&](double width) { return width_good(form, width); });
    out.good = any && round && wide && (!stem || stem_good(form, *stem));
    return out;
}

std::optional<double> finished_height(const FinishedFrom& from) {
    if (from.old && from.stem_before && from.stem_after)
        return *from.old - (*from.stem_after - *from.stem_before);
    if (from.old && from.first_depth) {
        const double from_short = std::abs(*from.first_depth - (from.planned_depth - from.short_by));
        if (from.named || from.short_by <= same_place || from_short > from.trim_max + same_place)
            return *from.old - *from.first_depth;
    }
    if (from.good && from.one_height) return from.one_height;
    return std::nullopt;
}

}  // namespace seatwright::cut
