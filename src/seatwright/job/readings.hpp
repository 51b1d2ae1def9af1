// What was measured. Lengths mm, angles rad, volumes mm3, pressures kPa. Each names its head ("1" if the file
// is silent) and, but for an unlabelled touch, its valve.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/growing_list.hpp"
#include "seatwright/base/vec.hpp"

namespace seatwright::job {

struct Touch {
    std::string head = "1";
    std::string valve;         // "?" = unlabelled
    Vec2 at = Vec2::Zero();    // readout coordinates
    std::optional<double> sd;  // find.touch_sd if not given
    int line = 0;              // in the job file; 0 = not from a file
    bool sure = false;         // somebody confirmed this reading: it is not asked about
    bool keep = false;         // the machinist stands by it: never set aside, places its own guide only
    std::string date, by;      // when it was read, and by whom, as written
};

enum class Across { incline, cant };

struct Level {
    std::string head = "1";
    std::string valve;
    Across across = Across::incline;
    double first = 0;              // positive: upper end leans towards +Y (incline) or +X (cant)
    std::optional<double> second;  // in the sensor's own sign, the sensor turned half a turn
    int line = 0;
    bool sure = false;
    std::string date, by;  // when it was read, and by whom, as written
};

struct GuideBore {
    std::string head = "1";
    std::string valve;
    double top = 0, middle = 0, bottom = 0;  // diameters
    int line = 0;
    bool sure = false;
    std::string date, by;  // when it was read, and by whom, as written
};

struct SeatBefore {
    std::string head = "1";
    std::string valve;
    std::optional<double> stem_height;
    std::optional<double> recession;
    std::optional<double> cleanup;
    std::optional<double> chamber;     // mm3
    std::vector<Vec2> section;         // (r, z) of the worn seat; z from the seat's old height
    std::optional<double> rest_z;      // readout Z of the cutter resting on it, its Z0 on the touched seat
    std::optional<double> below_deck;  // middle of the valve's head face below the deck there
    std::optional<double> face_outside, face_width;  // old face: outer diameter, width along the cone
    enum class ValveUsed { own, setting } valve_used = ValveUsed::own;
    bool after_deck_cut = false;  // read after depth.deck_cut came off
    int line = 0;
    bool sure = false;
    std::string date, by;  // when it was read, and by whom, as written
};

// Names of the gauges that read each quantity; empty = not said.
struct GaugesUsed {
    std::string runout, width, stem_height;
    bool any() const { return !runout.empty() || !width.empty() || !stem_height.empty(); }
    bool operator==(const GaugesUsed&) const = default;
};

struct SeatAfter {
    std::string head = "1";
    std::string valve;
    std::vector<double> trace;   // runout readings, mm
    std::vector<double> angles;  // rad, same length as trace, or empty = even spacing from 0
    std::optional<double> runout;
    std::vector<double> width;
    std::optional<double> stem_height;
    std::optional<double> vacuum;  // kPa below atmosphere
    std::string by;
    std::optional<double> gauge_u;     // standard uncertainty of the gauge, mm
    std::optional<double> resolution;  // least step it shows, mm, where gauge_u leaves that out
    std::string date;                  // when it was measured, as written
    std::string gauge;                 // what it was measured with, for all quantities
    GaugesUsed gauges;                 // or for each by itself
    std::string calibrated;            // when that was last calibrated, as written
    std::string cutter;       // cutter (or cutting edge) that cut the seat; a change breaks the series
    std::string accepted_by;  // who accepted this seat as it is, if it does not pass
    std::optional<double> vacuum_after;    // kPa left after
    std::optional<double> vacuum_seconds;  // this long with the pump shut off, s
    int line = 0;
    bool sure = false;
};

enum class TrimmedAt { file, control };
// How to go on after a first seat that went deeper than the plan can bear: Z moved and the depths as they
// were, or the depths made anew around it. Open: nobody has chosen.
enum class AfterFirst { open, shifted, anew };

// By what a first seat is read, and what a file planned that to be, mm.
enum class FirstFigure { depth, stem_height, below_deck };
struct FirstWasPlanned {
    FirstFigure figure = FirstFigure::depth;
    double value = 0;
};

// The first seat a cutter cut on a head, measured; one of the three figures is given.
struct FirstSeat {
    std::string head = "1";
    std::string valve;
    std::optional<double> depth, stem_height, below_deck;
    TrimmedAt trimmed = TrimmedAt::file;
    AfterFirst plan = AfterFirst::open;
    std::optional<double> planned;  // what the sheet of the file that cut it planned this figure to be
    std::optional<double> gauge_u;  // standard uncertainty of the gauge; 0.01 mm where not given
    bool sure = false;
    int line = 0;
    std::string date, by;  // when it was read, and by whom, as written
    // Not of the job's text: what the papers that lie where these go say of the file that cut it.
    std::optional<FirstWasPlanned> earlier;
};

// A copy shares them: a job with one reading more costs no more than that reading.
struct Readings {
    GrowingList<Touch> touches;
    GrowingList<Level> levels;
    GrowingList<GuideBore> guides;
    GrowingList<SeatBefore> seats;
    GrowingList<SeatAfter> proofs;
    GrowingList<FirstSeat> firsts;
};

}  // namespace seatwright::job
