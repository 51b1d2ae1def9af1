// The first seat a cutter cuts on a head: cut short, measured, and what its measurement asks of the others.
//
// Lengths mm. e = measured − planned depth of the first seat as it was cut (short), + = deeper. Two readings
// of one gauge, before and after, differ by e only within U = 2·√2·sd: |e| ≤ U moves nothing. Beyond it every
// stop of that cutter's moves up by e, Z_new = Z_old + e; a trim over trim_max is not taken (Z0 is wrong, not
// off) until Z0 is taken again or a lead allows it. What was trimmed at the control shifts no file.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/job/job.hpp"
#include "seatwright/shape/zero.hpp"

namespace seatwright::cut {

// Standard uncertainty of the gauge a first seat is measured with, where the reading does not say.
inline constexpr double first_gauge_sd = 0.01;
// The first cut takes at least this, so that its depth can be told from nothing at all.
inline constexpr double least_first_cut = 0.03;

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

// How much less than its plan the first seat is cut at first: first_short, less where the cut is too thin for
// it.
double short_by(const job::CutRules& rules, double depth);

// The first seat as planned: what the gauge should have read.
struct FirstPlanned {
    double depth = 0;     // of the whole cut, d
    double short_by = 0;  // as short_by()
    // Of the seat finished, with the valve of the reading before: h_before + d or h_drawing + f.
    std::optional<double> stem_height;
    std::optional<double> below_deck;  // likewise, below the deck as cut
    double axis = 1;                   // a_z
};

struct FirstMeasured {
    double depth = 0;  // of the cut as it stands
    double e = 0;      // deeper than planned
    double u = 0;      // U = 2·√2·sd
};

// None where the plan has no figure that the reading can be held against (a stem height read after, none
// before).
std::optional<FirstMeasured> measured(const job::FirstSeat& reading, const FirstPlanned& planned);

// What follows for the cutter's other stops.
struct Trim {
    double e = 0, u = 0;
    double shift = 0;         // of every stop in files still to be made, up positive
    bool too_large = false;   // |e| > trim_max and nobody allows it: nothing more is cut with this Z0
    bool at_control = false;  // Z0 was moved by e at the control; shift is 0
    std::string words;        // a sentence for card and header
};
// `allowed`: a lead lets a large trim pass (allowance_of(job, "trim 3I")).
enum class LargeTrim { held_back, allowed };
Trim trim_of(const job::CutRules& rules, const job::FirstSeat& reading, const FirstMeasured& measured,
             LargeTrim large, LengthUnit unit);

// "trim 3I" stands in allow.
LargeTrim large_trim(const job::Job& job, const std::string& valve);

// The later reading counts; null if there is none of that head and valve.
const job::FirstSeat* first_reading(const job::Job& job, const std::string& head, const std::string& valve);

// Whether the plan still holds with the first seat at its measured height: it is deeper than its plan only
// where the cut, though short, went past it.
struct PlanAround {
    double depth = 0;                   // planned, of the first seat
    std::optional<double> most_depth;   // its limit
    std::optional<double> stem_height;  // planned, of the first seat
    std::vector<double> other_stems;    // planned, of the others of its kind
    std::optional<double> stem_spread;  // allowed
};
bool plan_holds(const PlanAround& plan, double measured_depth);

// Whether a program may go without the stop after its first seat: every limit of every seat further off than
// U(Z), or one height from a finished seat.
struct SeatRoom {
    double u = 0;                  // U(Z) of that seat
    std::optional<double> deeper;  // to its deepest
    std::optional<double> less;    // to its least depth that still cleans up
};
bool stop_may_go(const std::vector<SeatRoom>& seats, job::DepthTo to, shape::ZeroOn zero);

}  // namespace seatwright::cut
