// What the spindle shall do in one setup, in program coordinates: the intention that a program states and the
// read-back holds it against.
//
// Program coordinates: X, Y as the readout shows them from the datum guide; Z up, zero on the datum's seat
// before cutting, or where its guide axis pierces the deck (shape::program_zero); the tool's point is the
// centre of the cutter's gauge circle. Lengths mm, feeds mm/s.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "seatwright/base/notice.hpp"
#include "seatwright/hold/hold.hpp"
#include "seatwright/job/job.hpp"

namespace seatwright::cut {

// The pilot goes in slowly enough to be stopped by hand when it does not find the mouth (from memory).
inline constexpr double pilot_entry_feed = 2.5;
// From the clear height down to the mouth, and down the guide: brisk, but never a rapid.
inline constexpr double approach_feed = 10;
// The entry feed begins this far above the mouth and ends when the tip is this far in.
inline constexpr double entry_above = 5;
inline constexpr double entry_inside = 10;
// The cutting feed begins this far above the metal.
inline constexpr double air_gap = 0.5;
// Clear of the highest thing by this.
inline constexpr double clear_margin = 5;
// Round the path, what a cutter body may pass over: head surface within this of a seat centre counts.
inline constexpr double beside_path = 30;
// Pilot tip below the guide's upper end, and guide top below the seat, when the job does not say.
inline constexpr double usual_guide_length = 50;
inline constexpr double usual_guide_to_seat = 40;

// A cutter at one blade setting.
struct Tool {
    std::size_t cutter = 0;    // index into job.cutters
    double blade_setting = 0;  // diameter
    int number = 1;            // T word
};

struct Stop {
    std::size_t valve = 0;  // index into job.head.valves
    std::string id;
    Vec2 at = Vec2::Zero();
    double z = 0;          // seat at depth
    double entry_top = 0;  // entry feed from here
    double entry_end = 0;  // to here
    double cut_start = 0;  // cutting feed from here
    double rpm = 0;
    double feed = 0;           // mm/s while cutting
    double dwell_seconds = 0;  // at depth
    Tool tool;
};

struct Route {
    std::size_t setup = 0;  // index into hold.setups
    double clear = 0;       // no sideways move below
    std::vector<Stop> stops;
    std::string head;           // whose touches, if any
    bool from_touches = false;  // positions are found ones; else the map
};

// Height at which everything on the tool passes over everything near the stops; the stops need at, z and
// valve.
double clear_height(const job::Job& job, const hold::Setup& setup, const std::vector<Stop>& stops);

// How far the pilot's tip stands below the cutter's gauge circle.
double pilot_reach(const job::Job& job, job::Kind kind);

// Fills entry_top, entry_end and cut_start for a seat under `metal` mm of metal at the most.
void set_heights(const job::Job& job, Stop& stop, double metal);

}  // namespace seatwright::cut
