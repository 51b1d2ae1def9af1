#include "seatwright/cut/first_in_form.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/base/allow_words.hpp"
#include "seatwright/base/fault.hpp"
#include "seatwright/base/length_words.hpp"

namespace seatwright::cut {
namespace {

// A reading of a seat that was not to be first is taken for its first cut within so many trims.
constexpr double firsts_alike = 3, firsts_rounding = 1e-9;

// The reading that counts: the last one of any of the seats.
const job::FirstSeat* reading_in(const job::Job& job, const std::string& head,
                                 const std::vector<FormSeat>& seats) {
    const job::FirstSeat* found = nullptr;
    for (const FormSeat& seat : seats) {
        const std::string& id = job.head.valves.at(seat.valve).id;
        const auto read = std::count_if(
            job.readings.firsts.begin(), job.readings.firsts.end(),
            [&](const job::FirstSeat& reading) { return reading.head == head && reading.valve == id; });
        if (read < (seat.begun ? 2 : 1)) continue;
        const job::FirstSeat* reading = first_reading(job, head, id);
        if (found == nullptr || reading > found) found = reading;
    }
    return found;
}

// Measured again is right; that the first reading no longer counts is said.
std::optional<std::string> read_twice(const job::Job& job, const job::FirstSeat& last, double u) {
    for (const job::FirstSeat& other : job.readings.firsts) {
        if (&other == &last || other.head != last.head || other.valve != last.valve) continue;
        if (!other.depth || !last.depth || std::abs(*other.depth - *last.depth) <= u) continue;
        return fmt::format("{} has two readings of its first cut, {} and {}: the last one counts", last.valve,
                           length_words(*other.depth, job.units), length_words(*last.depth, job.units));
    }
    return std::nullopt;
}

std::vector<FirstCandidate> candidates_of(const shape::Zero& zero, const std::vector<FormSeat>& seats) {
    std::vector<FirstCandidate> out;
    for (const FormSeat& seat : seats) {
        FirstCandidate candidate;
        candidate.valve = seat.valve;
        // As the first file was planned: it chose by that.
        candidate.finished = seat.stop + seat.since_first;
        if (seat.most_depth) candidate.room = *seat.most_depth - (seat.depth - seat.since_first);
        candidate.touched = seat.begun || (zero.on == shape::ZeroOn::old_seat && zero.valve == seat.valve);
        out.push_back(candidate);
    }
    // The touched seat still tells more than one begun.
    if (std::all_of(out.begin(), out.end(), [](const FirstCandidate& one) { return one.touched; }))
        for (std::size_t i = 0; i < out.size(); ++i) out[i].touched = seats[i].begun;
    return out;
}

bool may_go(const job::Job& job, const shape::Zero& zero, const std::vector<FormSeat>& seats) {
    std::vector<SeatRoom> rooms;
    for (const FormSeat& seat : seats) {
        SeatRoom room;
        room.u = seat.u;
        if (seat.most_depth) room.deeper = *seat.most_depth - seat.depth;
        if (seat.least_depth) room.less = seat.depth - *seat.least_depth;
        rooms.push_back(room);
    }
    return stop_may_go(rooms, job.depth.to, zero.on);
}

}  // namespace

FirstInForm first_in_form(const job::Job& job, const std::string& head, const std::string& setup,
                          const shape::Zero& zero, const std::vector<FormSeat>& seats) {
    require(!seats.empty(), "a first seat is one of some");
    FirstInForm out;
    const job::FirstSeat* reading = reading_in(job, head, seats);
    std::optional<std::size_t> chosen;
    if (job.cut.first) chosen = job.head.index_of(*job.cut.first);
    const auto candidates = candidates_of(zero, seats);
    out.place = *first_of(candidates, chosen);
    const std::size_t expected = seats[out.place].valve;
    if (reading != nullptr) out.place = *first_of(candidates, job.head.index_of(reading->valve));
    const bool as_expected = seats[out.place].valve == expected;
    if (!as_expected)
        out.other = fmt::format(
            "the reading of a first seat names {}, where the first file of setup {} cuts {} first: right "
            "only "
            "if {} was chosen by hand (`first` in [cut])",
            reading->valve, setup, job.head.valves.at(expected).id, reading->valve);
    if (!job.cut.first_stop) {
        out.stops = !may_go(job, zero, seats);
        if (out.stops)
            out.stop_why = fmt::format(
                "first_stop = false is not followed in setup {}: a limit is nearer than Z is "
                "known, so the first seat is measured",
                setup);
    }
    const FormSeat& first = seats[out.place];
    const double planned_depth = first.depth - first.since_first;
    out.short_by = out.stops ? short_by(job.cut, planned_depth) : 0;
    if (reading == nullptr) return out;
    if (!as_expected && zero.on == shape::ZeroOn::old_seat && zero.valve == first.valve)
        out.held = HeldBack{
            head,
            setup,
            reading->valve,
            HeldCode::zero_void,
            fmt::format(
                "Z0 is taken on {}, which a first-seat reading says is cut already, so that it cannot "
                "be checked there; the first file cuts {} first",
                reading->valve, job.head.valves.at(expected).id),
            fmt::format(
                "Z0 taken on another seat (`zero_on`), or first = \"{}\" in [cut] where it was chosen",
                reading->valve)};
    if (reading->depth && !first.depth_known) {
        out.stop_why = fmt::format(
            "how deep {} was cut says nothing of Z, since its old seat was not read: type its stem height or "
            "how "
            "far its valve lies below the deck",
            reading->valve);
        return out;
    }
    out.measured = measured(
        *reading, shape::first_planned(job, head, job.head.valves.at(first.valve),
                                       {planned_depth, first.stop + first.since_first, first.depth_known},
                                       out.short_by));
    if (!out.measured) return out;
    out.twice = read_twice(job, *reading, out.measured->u);
    out.trim = trim_of(job.cut, *reading, *out.measured, large_trim(job, reading->valve), job.units);
    const double ends = planned_depth + out.measured->e;
    if (out.trim->shift == 0 && !out.trim->at_control && first.most_depth && first.depth_known &&
        ends > *first.most_depth + firsts_rounding)
        out.past_limit = fmt::format(
            "{} as read would end {} deep, past its limit of {}: within what the gauge tells, so no stop "
            "moves; "
            "measure it again before the second file",
            reading->valve, length_words(ends, job.units), length_words(*first.most_depth, job.units));
    const std::string expected_instead =
        as_expected ? std::string()
                    : fmt::format("; the first file cuts {} first", job.head.valves.at(expected).id);
    // Nobody said that another seat was chosen: a valve typed wrong would move every stop.
    if (!as_expected && !job.cut.first && !reading->sure && out.trim->shift != 0 && !out.held) {
        out.held = HeldBack{
            head,
            setup,
            reading->valve,
            HeldCode::doubt,
            fmt::format("the reading of a first seat names {}, where the first file of setup {} "
                        "cuts {} first; every stop would move by what it says",
                        reading->valve, setup, job.head.valves.at(expected).id),
            fmt::format("its valve corrected; or, if {0} was cut first, first = \"{0}\" in [cut], or "
                        "sure = true in that reading",
                        reading->valve)};
        return out;
    }
    // What cannot have been a first cut of this seat nobody can allow.
    const bool not_a_first =
        !as_expected && std::abs(out.trim->e) > firsts_alike * job.cut.trim_max + firsts_rounding;
    if (out.held) return out;
    if (out.trim->too_large || not_a_first)
        out.held =
            HeldBack{head,
                     setup,
                     reading->valve,
                     HeldCode::trim_large,
                     (not_a_first && !out.trim->too_large
                          ? fmt::format("what was read of {} cannot be of its first cut", reading->valve)
                          : out.trim->words) +
                         expected_instead,
                     "Z0 taken again, or " + allow_words("trim " + reading->valve)};
    return out;
}

}  // namespace seatwright::cut
