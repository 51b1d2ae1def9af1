// What of a head is cut when a blade broke, and what the new one takes its Z0 on.
//
// A seat is cut only when a person said so: by a reading after cutting, or by naming the seat at which the
// blade broke, those before it in the file having been cut. Z0 of the new blade: on the last seat of its form
// measured good (form on form, its measured height), else touched on a seat not yet cut whose height is
// known, else no file is made. The old blade's trim is void, and the first seat is cut short anew. A finished
// seat already deeper than its plan is not cut again.
//
// Heights s along the guide, 0 = as drawn, up positive; lengths mm.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/job/job.hpp"

namespace seatwright::cut {

enum class SeatState { good, measure_again, begun, left };

// One seat of the broken cutter's.
struct SeatSaid {
    std::size_t valve = 0;
    std::string id;
    bool cut = false;                // a reading after cutting is there
    bool good = false;               // and all of it lies within its limits
    std::optional<double> finished;  // s as measured
    std::optional<double> old;       // s of the old seat, where it is known
};

struct Restart {
    struct Seat {
        std::size_t valve = 0;
        std::string id;
        SeatState state = SeatState::left;
        bool height_known = false;  // of the old seat
    };
    std::vector<Seat> seats;                 // as given
    std::optional<std::size_t> finished_on;  // valve to take Z0 on
    std::optional<std::size_t> touch_on;     // else this one, not yet cut, with a height
    bool zero_void() const { return !finished_on && !touch_on; }
    bool may_touch(std::size_t valve) const;  // left, with a height
    // "cut and measured good: 1I, 2I; measure again: …"; card and halt.
    Sentence words() const;
};

// `order`: the cutter's seats as its files cut them; `broke`: index into it of the seat at which the blade
// broke, none: seats are only picked (--only), and what nobody read is left.
Restart restart_of(const std::vector<SeatSaid>& order, std::optional<std::size_t> broke);

// The readings of first seats that the broken blade's file was made with: the last one of these seats is the
// new blade's own where its seat lies at `broke` or after it in the order those before it give. Of the seat
// begun one reading is the old blade's, a second the new one's.
struct FirstsOfOld {
    GrowingList<job::FirstSeat> old;         // without the new blade's, if there may be one
    std::optional<std::string> perhaps_new;  // seat of the last reading; none: no reading of these seats
};
FirstsOfOld firsts_of_old(const job::Job& job, const std::string& head, const std::vector<std::string>& seats,
                          const std::string& broke);

// What the readings after cutting say of one seat.
struct AfterReading {
    bool cut = false, good = false;
    std::optional<double> stem_height;  // after
};
// `form`: limits of runout, width and stem height. Several readings of one seat: the last counts item by
// item.
AfterReading after_reading(const job::Job& job, const std::string& head, const std::string& valve,
                           const job::SeatForm& form);

// s of a finished seat, from what is known of it.
struct FinishedFrom {
    std::optional<double> old;          // s of the old seat
    std::optional<double> stem_before;  // same valve
    std::optional<double> stem_after;
    std::optional<double> first_depth;  // reading.first, as a depth below the old seat
    double planned_depth = 0;
    double short_by = 0;  // of the first cut
    double trim_max = 0.10;
    std::optional<double> one_height;  // s of a plan to one height: where the seat was found good
    bool named = false;                // depth.zero_on names it: its reading is of the finished seat
    bool good = false;
};
// A depth read of a first seat may be of the short cut: it counts only where it cannot be that (further from
// the short depth than any trim, or the seat is named). None: not known.
std::optional<double> finished_height(const FinishedFrom& from);

}  // namespace seatwright::cut
