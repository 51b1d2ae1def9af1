// The first seat a cutter cut on a head, as planned and as measured.
//
// Lengths mm. e = measured − planned depth of the first seat as it was cut (short), + = deeper. Two readings
// of one gauge, before and after, differ by e only within U = 2·√2·sd.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "seatwright/job/job.hpp"

namespace seatwright::shape {

// Standard uncertainty of the gauge a first seat is measured with, where the reading does not say.
inline constexpr double first_gauge_sd = 0.01;
// The first cut takes at least this, so that its depth can be told from nothing at all.
inline constexpr double least_first_cut = 0.03;

// How much less than its plan the first seat is cut at first: first_short, less where the cut is too thin for
// it.
double short_by(const job::CutRules& rules, double depth);

// What the gauge should have read.
struct FirstPlanned {
    double depth = 0;     // of the whole cut, d
    double short_by = 0;  // as short_by()
    // Of the seat finished, with the valve of the reading before: h_before + d or h_drawing + f.
    std::optional<double> stem_height;
    std::optional<double> below_deck;  // likewise, below the deck as cut
    double axis = 1;                   // a_z
};

// One seat as planned: its whole depth d and the height s it ends at. `depth_known`: the old seat was read;
// else readings before cutting say nothing of it, and d is the most it may be.
struct SeatAsPlanned {
    double depth = 0, stop = 0;
    bool depth_known = true;
};
FirstPlanned first_planned(const job::Job& job, const std::string& head, const job::Valve& valve,
                           const SeatAsPlanned& seat, double short_by);

// What the gauge is to show of the seat cut short; none where the plan has no such figure. A mm deeper shows
// as so many mm of it.
std::optional<double> shall_read(const FirstPlanned& planned, job::FirstFigure figure);
double mm_per_depth(const FirstPlanned& planned, job::FirstFigure figure);
// By which figure it was read, and what that was, mm.
job::FirstFigure read_by(const job::FirstSeat& reading);
double figure_read(const job::FirstSeat& reading);
// As [[reading.first]] names it: "depth", "stem_height" or "below_deck".
std::string_view word_of(job::FirstFigure figure);

struct FirstMeasured {
    double depth = 0;  // of the cut as it stands
    double e = 0;      // deeper than planned
    double u = 0;      // U = 2·√2·sd
};

// None where the plan has no figure that the reading can be held against (a stem height read after, none
// before). `planned` is of the plan as it is now; where the reading says what its own file planned, e is off
// that.
std::optional<FirstMeasured> measured(const job::FirstSeat& reading, const FirstPlanned& planned);

// The later reading counts; null if there is none of that head and valve.
const job::FirstSeat* first_reading(const job::Job& job, const std::string& head, const std::string& valve);

enum class LargeTrim { held_back, allowed };
// "trim 3I" stands in allow.
LargeTrim large_trim(const job::Job& job, const std::string& valve);

}  // namespace seatwright::shape
