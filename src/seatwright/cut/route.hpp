// What the spindle shall do in one file, in program coordinates: the intention that a program states and the
// read-back holds it against (working.md, "Float and spindle", "Z zero", "Feeds", "First seat, trim").
//
// Program coordinates: X, Y as the readout shows them from the datum guide; Z up, of the cutter's gauge
// plane, zero as route.zeros says for each cutter. Lengths mm, feeds mm/s, times s.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/hold/hold.hpp"
#include "seatwright/job/job.hpp"
#include "seatwright/shape/zero_task.hpp"
#include "seatwright/words/notice.hpp"

namespace seatwright::cut {

// The tool's lowest point (the pilot's tip, where one stands in the tool) is that far above what it is to
// meet (its guide's mouth, a planted pilot's top, the seat) where the way down turns slow and the float is
// freed.
inline constexpr double over_mouth_gap = 5;
// From the clear height to there: brisk, but never a rapid.
inline constexpr double approach_feed = 10;
// A taper breaks loose: the first of the way out is slower than the rest.
inline constexpr double break_loose = 3;
inline constexpr double break_loose_feed = 1;  // 60 mm/min
// Off the face with the spindle still turning, so that no line is left on it; at the finishing feed.
inline constexpr double slow_lift = 1;
// The slow way in ends so far over the metal at the least, or over what U(Z) leaves open of it.
inline constexpr double least_approach = 1, approach_margin = 0.3;
// Clear of the highest thing by this.
inline constexpr double clear_margin = 5;
// Round the path, what a cutter body may pass over: head surface within this of a seat centre counts.
inline constexpr double beside_path = 30;

// A cutter at one blade setting.
struct Tool {
    std::size_t cutter = 0;    // index into job.cutters
    double blade_setting = 0;  // diameter
    int number = 1;            // on the card, in file names, and as T and H word
};

// Z0 of one cutter, as it is taken (shape/zero_task.hpp), and what the first seat's measurement asked for.
struct CutterZero {
    int cutter = 1;  // Tool::number
    shape::Zero taken;
    double trim = 0;  // in every stop of that cutter's, up positive
    // Index into job.pilots: what stood in the guide Z0 was taken in, in the tool or planted there. None: it
    // was taken in no guide, without a pilot, or with whichever fits one that nobody read.
    std::optional<std::size_t> pilot;
    bool pilot_stands = false;  // it is in the tool when the file begins (carried, live)
    // What to see once that cutter stands at the clear height: "the tip stands 5 mm over the deck at 1E"; or
    // empty.
    std::string look;
};

// Which seats of a cutter's a file cuts: all of them; the first one, short; or that one to its stop and those
// after it. With Z0 moved at the control, `whole` has a halt after the first seat.
enum class FilePart { whole, first, rest };

// What a gauge shall show of a seat once it is cut, as a person at the machine can read it. The depth says
// nothing of Z where nobody read the old seat: then a height does (with the setting valve, or of the valve's
// head below the deck as cut), if the drawing has one.
struct ShallRead {
    enum class By { depth, stem_height, below_deck, nothing } by = By::depth;
    double value = 0;
};

// Slow way down and up again at one seat. Heights are Z of the gauge plane, program coordinates, descending:
// clear > over_mouth > approach >= finish_from >= z.
struct Stop {
    std::size_t valve = 0;  // index into job.head.valves
    std::string id;
    Vec2 at = Vec2::Zero();
    Tool tool;
    std::optional<std::size_t> pilot;  // index into job.pilots: in the tool, or planted in this guide
    double z = 0;            // where the cut ends: trim, and first_short where it is cut short, in it
    double over_mouth = 0;   // brisk feed from clear to here; then the float is freed
    double approach = 0;     // slow feed to here; then float locked, spindle on
    double finish_from = 0;  // cutting feed to here, then the finishing feed
    double rpm = 0;
    double entry_rpm = 0;      // of a live pilot on its way in and out; 0 = spindle off
    double feed = 0;           // mm/s, cutting
    double finish_feed = 0;    // mm/s, finishing and slow lift
    double dwell_seconds = 0;  // at z
    double depth = 0;          // of the whole cut at z, as planned
    bool short_cut = false;    // the first seat: cut.first_short above its plan
    ShallRead reads;           // at z
};

// One file. Every stop has the same head, setup and way of the pilot; with machine.zero = program one cutter;
// one pilot a cutter where changing it takes the cutter off.
struct Route {
    std::size_t setup = 0;      // index into hold.setups
    std::string head;           // whose seats these are
    bool from_touches = false;  // positions are found ones; else the map
    // What the readout shows over the setup's datum guide, as it stood at the touches; without these it is
    // zeroed there.
    std::optional<Vec2> datum_at;
    job::PilotUse pilot = job::PilotUse::carried;
    FilePart part = FilePart::whole;
    bool touched_last = false;      // the seat Z0 was taken on is the last stop, to check Z0 on it till then
    bool draft = false;             // holds what is blocked: first block a halt and program end
    std::vector<std::string> only;  // valve ids asked for; empty = all
    std::optional<std::string> from;  // valve at which a blade broke
    std::vector<CutterZero> zeros;    // one; with machine.zero = offsets one for each cutter of the file
    double clear = 0;                 // no sideways move below
    std::vector<Stop> stops;          // as cut
    std::optional<std::size_t> measure_after;  // place in stops: after it, over to measure_at (spindle off)
                                               // and a halt, or the file's end if it is the last
    std::vector<std::string> held_back;        // ids of this file's setup that are left out, in head order
    Sentence restart;                          // after a broken blade: what is cut, begun and left
    std::string digest;                        // eight characters; empty until the papers have one
    std::string date;                          // of the newest reading that carries one; empty: none
};

// The seats a file cuts to be measured, and what each reading shall be, mm; not those that no reading tells
// of.
struct ToMeasure {
    std::string valve;
    job::FirstFigure figure = job::FirstFigure::depth;
    double planned = 0;
};
std::vector<ToMeasure> to_measure(const Route& route);

// All stops of that setup's routes, one cutter after the other, at the highest of their clear heights: what
// is done in it from first to last. No stops if it has none.
Route whole_setup(const std::vector<Route>& routes, std::size_t setup);

// The zero of that cutter; the route has one.
const CutterZero& zero_of(const Route& route, int cutter);

// Where a pilot is changed: measure_at, else load_at, the one that lies beside the head as held (its valves,
// bolt holes and obstacles, beside_path round them); none: a person takes the tool away by hand.
std::optional<Vec2> beside_head(const job::Job& job, const hold::Setup& setup);

// How a seat's tool stands at its stop; lengths along the spindle.
struct ToolBelow {
    double tip = 0;         // gauge plane down to the lowest point of the tool, slide out
    double over_mouth = 0;  // gauge plane over the stop when that point is over_mouth_gap above what it meets
};

// Height over the stop at which the slow way in ends: over `metal` and the cutter's rest `kappa` on it (0
// where it is not known) the greater of [cut] approach (least_approach) and uncertainty + approach_margin.
double approach_height(const job::Job& job, double metal, double kappa, double uncertainty);

// Fills over_mouth, approach and finish_from of a stop whose z is set; `depth`: of the whole cut. Less than
// finish_depth is fed at the finishing feed from the approach height on.
void set_heights(const job::Job& job, Stop& stop, const ToolBelow& below, double approach, double depth);

// Height at which a tool reaching `tip` below its gauge plane passes over everything near the stops, which
// need valve, at, z and over_mouth. `zero`: shape::Zero::zeta of the file, the lowest of several.
double clear_height(const job::Job& job, const hold::Setup& setup, const std::vector<Stop>& stops, double tip,
                    double zero);

}  // namespace seatwright::cut
