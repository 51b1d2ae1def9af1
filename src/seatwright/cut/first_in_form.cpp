#include "seatwright/cut/first_in_form.hpp"

#include <algorithm>
#include <cmath>

#include "seatwright/base/allow_words.hpp"
#include "seatwright/base/fault.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/words/english_cut.hpp"

namespace seatwright::cut {
namespace {

// A reading of a seat that was not to be first is taken for its first cut within so many trims.
constexpr double firsts_alike = 3, firsts_rounding = 1e-9;
// Half of the last place a sheet prints, in inches, mm: a figure typed from it is that near.
constexpr double as_printed = 0.00127;

// The reading that counts: the last one of any of the seats.
const job::FirstSeat* reading_in(const job::Job& job, const std::string& head,
                                 const std::vector<FormSeat>& seats) {
    const job::FirstSeat* found = nullptr;
    const auto own = job::of_head(job.readings.firsts, head);
    for (const FormSeat& seat : seats) {
        const std::string& id = job.head.valves.at(seat.valve).id;
        const auto read = std::count_if(own.begin(), own.end(),
                                        [&](const job::FirstSeat& reading) { return reading.valve == id; });
        if (read < (seat.begun ? 2 : 1)) continue;
        const job::FirstSeat* reading = first_reading(job, head, id);
        if (found == nullptr || reading > found) found = reading;
    }
    return found;
}

// Measured again is right; that the first reading no longer counts is said.
std::optional<Sentence> read_twice(const job::Job& job, const job::FirstSeat& last, double u) {
    for (const job::FirstSeat& other : job::of_head(job.readings.firsts, last.head)) {
        if (&other == &last || other.valve != last.valve) continue;
        if (!other.depth || !last.depth || std::abs(*other.depth - *last.depth) <= u) continue;
        return sentence<"first-twice">("valve"_is = last.valve, "first"_is = as_length(*other.depth),
                                       "last"_is = as_length(*last.depth));
    }
    return std::nullopt;
}

// The file that cut it planned something else.
bool is_otherwise(const job::FirstSeat& reading, const FirstPlanned& planned) {
    if (reading.planned || !reading.earlier) return false;
    const auto would = shape::shall_read(planned, reading.earlier->figure);
    return would && std::abs(reading.earlier->value - *would) > as_printed;
}

// The job was changed since: the change would pass for a Z0 that is off.
std::optional<HeldBack> planned_otherwise(const std::string& head, const std::string& setup,
                                          const job::FirstSeat& reading, const FirstPlanned& planned) {
    if (!is_otherwise(reading, planned)) return std::nullopt;
    const auto [by, value] = *reading.earlier;
    const double would = *shape::shall_read(planned, by);
    const job::FirstFigure figure = shape::read_by(reading);
    const double now = *shape::shall_read(planned, figure);
    const double then =
        now + (value - would) / shape::mm_per_depth(planned, by) * shape::mm_per_depth(planned, figure);
    return HeldBack{
        head,
        setup,
        reading.valve,
        HeldCode::missing,
        sentence<"first-planned-otherwise">("valve"_is = reading.valve, "then"_is = as_length(then),
                                            "now"_is = as_length(now)),
        sentence<"first-planned-otherwise-frees">("then"_is = as_length(then), "now"_is = as_length(now))};
}

// What stands on the card for the seat finished, typed as what its first cut left.
std::optional<HeldBack> typed_as_finished(const std::string& head, const std::string& setup,
                                          const job::FirstSeat& reading, const FirstMeasured& measured,
                                          double short_by) {
    if (reading.sure || short_by <= 2 * as_printed || std::abs(measured.e - short_by) > as_printed)
        return std::nullopt;
    return HeldBack{
        head,
        setup,
        reading.valve,
        HeldCode::doubt,
        sentence<"first-as-finished">("valve"_is = reading.valve, "short"_is = as_length(short_by)),
        sentence<"first-as-finished-frees">("valve"_is = reading.valve)};
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
        out.other = sentence<"first-other">("valve"_is = reading->valve, "setup"_is = setup,
                                            "expected"_is = job.head.valves.at(expected).id);
    if (!job.cut.first_stop) {
        out.stops = !may_go(job, zero, seats);
        if (out.stops) out.stop_why = sentence<"first-stop-not-followed">("setup"_is = setup);
    }
    const FormSeat& first = seats[out.place];
    double planned_depth = first.depth - first.since_first;
    out.short_by = out.stops ? short_by(job.cut, planned_depth) : 0;
    if (reading == nullptr) return out;
    if (!as_expected && zero.on == shape::ZeroOn::old_seat && zero.valve == first.valve)
        out.held = HeldBack{head,
                            setup,
                            reading->valve,
                            HeldCode::zero_void,
                            sentence<"zero-cut-already">("valve"_is = reading->valve,
                                                         "expected"_is = job.head.valves.at(expected).id),
                            sentence<"zero-cut-already-frees">("valve"_is = reading->valve)};
    if (reading->depth && !first.depth_known) {
        out.stop_why = sentence<"depth-says-nothing">("valve"_is = reading->valve);
        return out;
    }
    const auto planned_before = [&](double since) {
        return shape::first_planned(job, head, job.head.valves.at(first.valve),
                                    {first.depth - since, first.stop + since, first.depth_known},
                                    out.stops ? short_by(job.cut, first.depth - since) : 0);
    };
    FirstPlanned planned = planned_before(first.since_first);
    // Its first file was made after the plan was made anew for another cutter's first seat.
    const bool made_anew = is_otherwise(*reading, planned) && !is_otherwise(*reading, planned_before(0));
    if (made_anew) {
        planned = planned_before(0);
        planned_depth = first.depth;
        out.short_by = planned.short_by;
    }
    out.measured = measured(*reading, planned);
    if (!out.measured) {
        out.stop_why = sentence<"height-says-nothing">("valve"_is = reading->valve);
        return out;
    }
    out.twice = read_twice(job, *reading, out.measured->u);
    out.trim = trim_of(job.cut, *reading, *out.measured, large_trim(job, reading->valve));
    const double ends = planned_depth + out.measured->e;
    if (out.trim->shift == 0 && !out.trim->at_control && first.most_depth && first.depth_known &&
        ends > *first.most_depth + firsts_rounding)
        out.past_limit =
            sentence<"first-past-limit">("valve"_is = reading->valve, "depth"_is = as_length(ends),
                                         "limit"_is = as_length(*first.most_depth));
    const Sentence expected_instead =
        as_expected ? Sentence() : sentence<"first-instead">("expected"_is = job.head.valves.at(expected).id);
    // Nobody said that another seat was chosen: a valve typed wrong would move every stop.
    if (!as_expected && !job.cut.first && !reading->sure && out.trim->shift != 0 && !out.held) {
        out.held = HeldBack{head,
                            setup,
                            reading->valve,
                            HeldCode::doubt,
                            sentence<"first-in-doubt">("valve"_is = reading->valve, "setup"_is = setup,
                                                       "expected"_is = job.head.valves.at(expected).id),
                            sentence<"first-in-doubt-frees">("valve"_is = reading->valve)};
        return out;
    }
    if (!out.held) out.held = planned_otherwise(head, setup, *reading, planned);
    if (!out.held) out.held = typed_as_finished(head, setup, *reading, *out.measured, out.short_by);
    // What cannot have been a first cut of this seat nobody can allow.
    const bool not_a_first =
        !as_expected && std::abs(out.trim->e) > firsts_alike * job.cut.trim_max + firsts_rounding;
    if (out.held) return out;
    if (out.trim->too_large || not_a_first)
        out.held = HeldBack{
            head,
            setup,
            reading->valve,
            HeldCode::trim_large,
            sentence<"not-a-first">("what"_is = not_a_first && !out.trim->too_large
                                                    ? sentence<"cannot-be-first">("valve"_is = reading->valve)
                                                    : out.trim->words,
                                    "instead"_is = expected_instead),
            sentence<"zero-again-or">("allow"_is = allow_words("trim " + reading->valve)),
            "trim " + reading->valve};
    return out;
}

}  // namespace seatwright::cut
