// cut: what speed, feed, dwell, order and program get the seats there without chatter, and how long does it
// take?
//
// Speeds 1/min at the spindle, m/min at the surface, feeds mm per turn, N, N·mm, W, s.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/cut/bending.hpp"
#include "seatwright/cut/route.hpp"
#include "seatwright/job/selection.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::cut {

struct SeatCut {
    std::size_t valve = 0;
    double rpm = 0, feed = 0, surface_speed = 0, chip = 0;
    double torque = 0, power = 0, thrust = 0;
    double finish_feed = 0;            // per turn, of the last finish_depth
    double fastest_rpm = 0;            // free of chatter in the whole of the material's range
    std::optional<std::size_t> pilot;  // index into job.pilots: what the program asks for
    std::optional<double> program_z;   // stop in its own program's coordinates, trim included
    double dwell_turns = 0;
    std::optional<double> stable_width;
    double seconds = 0;
    bool forces_known = false;  // chip to thrust rest on the material's kc11 and mc; else they are 0
    bool stable = true;         // no chatter expected at `rpm` and the form's whole width
    double total_width = 0;     // of cut, all facets
    std::optional<Bending> pilot_bending;
};

struct Estimate {
    struct Line {
        std::string what;
        double count = 0, rate = 0, amount = 0;
    };
    std::string currency;
    double head = 0;
    std::vector<Line> lines;
    std::vector<Sentence> not_included;  // what could still be found
};

// One file, read back and found right before it is handed out.
struct Program {
    std::string setup;
    std::string file;  // "program-6-A-1-first.ngc"
    std::string text;
    std::size_t lines = 0;
    int halts = 0;        // how often it asks a person for something
    bool checked = true;  // false of a draft, which no machine is to run
    Route route;          // what it does, for drawings and the typed table
};

struct ChatterPoint {
    double rpm = 0, stable_width = 0;
};

// Stable width over speed for one form, with the point it is worked at.
struct ChatterChart {
    std::string what;  // "intake seats"
    double width = 0;  // of the form
    double least_width = 0;
    double rpm = 0;
    double slowest = 0, fastest = 0;  // that material and machine allow
    bool stable = true;
    // Shared: what is read of a head changes none of it.
    std::shared_ptr<const std::vector<ChatterPoint>> border;
};

// Where the seconds of a head go besides the seats.
struct Times {
    double load = 0, setups = 0, changes = 0, seats = 0;
};

struct Cut : Notices {
    std::vector<SeatCut> seats;      // head order; seats that are cut
    std::vector<std::size_t> order;  // valve indices as machined
    double seconds_head = 0;
    std::optional<Estimate> estimate;
    std::vector<Program> programs;  // only those whose read-back passed
    std::vector<Route> routes;  // of every cutter in every setup, all its seats: for card, map and drawings
    std::vector<double> calm_rpm;
    std::vector<ChatterChart> charts;  // one a form
    std::vector<Tool> tools;           // cutters as set, by T number
    int cutter_changes = 0;
    int halts_head = 0;               // of all files of the head, the second ones too
    double path = 0, path_bound = 0;  // mm moved from seat to seat; no order with as few changes is shorter
    Times times;
};

// `selection`: which of the head's seats programs are written for. What goes into none is in `held_back`,
// that of the stages before included.
Cut plan(const job::Job& job, const hold::Hold& hold, const find::Find& find, const shape::Shape& shape,
         const job::Selection& selection = {});

}  // namespace seatwright::cut
