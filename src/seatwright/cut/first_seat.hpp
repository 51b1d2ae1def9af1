// The first seat a cutter cuts on a head: cut short, measured, and what its measurement asks of the others.
//
// Lengths mm. e and U as shape/first_read.hpp has them: |e| ≤ U moves nothing. Beyond it every stop of that
// cutter's moves up by e, Z_new = Z_old + e; a trim over trim_max is not taken (Z0 is wrong, not
// off) until Z0 is taken again or a lead allows it. What was trimmed at the control shifts no file.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/job/job.hpp"
#include "seatwright/shape/first_read.hpp"
#include "seatwright/shape/zero.hpp"

namespace seatwright::cut {

using shape::first_reading, shape::FirstMeasured, shape::FirstPlanned, shape::large_trim, shape::LargeTrim,
    shape::measured, shape::short_by;

struct FirstCandidate {
    std::size_t valve = 0;
    double finished = 0;         // s of the finished gauge circle, up positive
    std::optional<double> room;  // depth left to its limit; none: no limit known
    bool touched = false;        // Z0 is taken on it, or its height says nothing of this blade
};

// Index into `candidates` (as cut, or in head order): the one `chosen` if it is among them; else not the
// touched one if another is there, not the one with the least room to its limit if others are left, and of
// the rest the one finished lowest; the earlier of equals. None only of none.
std::optional<std::size_t> first_of(const std::vector<FirstCandidate>& candidates,
                                    std::optional<std::size_t> chosen);

// What follows for the cutter's other stops.
struct Trim {
    double e = 0, u = 0;
    double shift = 0;         // of every stop in files still to be made, up positive
    bool too_large = false;   // |e| > trim_max and nobody allows it: nothing more is cut with this Z0
    bool at_control = false;  // Z0 was moved by e at the control; shift is 0
    Sentence words;           // a sentence for card and header
};
// `large`: whether a lead lets a large trim pass (shape/first_read.hpp).
Trim trim_of(const job::CutRules& rules, const job::FirstSeat& reading, const FirstMeasured& measured,
             LargeTrim large);

// Whether a program may go without the stop after its first seat: every limit of every seat further off than
// U(Z), or one height from a finished seat.
struct SeatRoom {
    double u = 0;                  // U(Z) of that seat
    std::optional<double> deeper;  // to its deepest
    std::optional<double> less;    // to its least depth that still cleans up
};
bool stop_may_go(const std::vector<SeatRoom>& seats, job::DepthTo to, shape::ZeroOn zero);

}  // namespace seatwright::cut
