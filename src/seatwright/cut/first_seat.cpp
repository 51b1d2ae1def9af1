#include "seatwright/cut/first_seat.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {
namespace {

// Figures that people type have at most four decimals; below this two of them are the same.
constexpr double same_figure = 1e-9;
constexpr double no_room_limit = std::numeric_limits<double>::infinity();

}  // namespace

std::optional<std::size_t> first_of(const std::vector<FirstCandidate>& candidates,
                                    std::optional<std::size_t> chosen) {
    std::vector<std::size_t> left;
    for (std::size_t i = 0; i < candidates.size(); ++i) {
        if (chosen == candidates[i].valve) return i;
        if (!candidates[i].touched) left.push_back(i);
    }
    if (left.empty())
        for (std::size_t i = 0; i < candidates.size(); ++i) left.push_back(i);
    if (left.empty()) return std::nullopt;
    const auto room = [&](std::size_t i) { return candidates[i].room.value_or(no_room_limit); };
    double least = no_room_limit, most = 0;
    for (const std::size_t i : left) {
        least = std::min(least, room(i));
        most = std::max(most, room(i));
    }
    if (most > least + same_figure)
        std::erase_if(left, [&](std::size_t i) { return room(i) <= least + same_figure; });
    std::size_t best = left.front();
    for (const std::size_t i : left)
        if (candidates[i].finished < candidates[best].finished - same_figure) best = i;
    return best;
}

Trim trim_of(const job::CutRules& rules, const job::FirstSeat& reading, const FirstMeasured& measured,
             LargeTrim large) {
    Trim trim;
    trim.e = measured.e;
    trim.u = measured.u;
    const Figure amount = as_length(std::abs(trim.e));
    const Sentence way = trim.e > 0 ? sentence<"deeper">() : sentence<"less-deep">();
    if (std::abs(trim.e) <= trim.u + same_figure) {
        trim.words = sentence<"trim-within">("valve"_is = reading.valve, "amount"_is = amount, "way"_is = way,
                                             "u"_is = as_length(trim.u));
        return trim;
    }
    if (std::abs(trim.e) > rules.trim_max + same_figure && large == LargeTrim::held_back) {
        trim.too_large = true;
        trim.words = sentence<"trim-too-large">("valve"_is = reading.valve, "amount"_is = amount,
                                                "way"_is = way, "most"_is = as_length(rules.trim_max));
        return trim;
    }
    if (reading.trimmed == job::TrimmedAt::control) {
        trim.at_control = true;
        trim.words =
            sentence<"trim-at-control">("valve"_is = reading.valve, "amount"_is = amount, "way"_is = way);
        return trim;
    }
    trim.shift = trim.e;
    trim.words = sentence<"trim-in-file">("trim"_is = as_trim(trim.e));
    return trim;
}

bool stop_may_go(const std::vector<SeatRoom>& seats, job::DepthTo to, shape::ZeroOn zero) {
    if (to == job::DepthTo::height && zero == shape::ZeroOn::finished_seat) return true;
    return std::all_of(seats.begin(), seats.end(), [](const SeatRoom& seat) {
        return seat.deeper.value_or(no_room_limit) > seat.u && seat.less.value_or(no_room_limit) > seat.u;
    });
}

}  // namespace seatwright::cut
