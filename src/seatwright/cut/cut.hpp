// cut: what speed, feed, dwell, order and program get the seats there without chatter, and how long does it
// take?
//
// Speeds 1/min at the spindle, m/min at the surface, feeds mm per turn, N, N·mm, W, s.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/shape/shape.hpp"

namespace seatwright::cut {

struct SeatCut {
    std::size_t valve = 0;
    double rpm = 0, feed = 0, surface_speed = 0, chip = 0;
    double torque = 0, power = 0, thrust = 0;
    double dwell_turns = 0;
    std::optional<double> stable_width;
    double seconds = 0;
};

struct Estimate {
    struct Line {
        std::string what;
        double count = 0, rate = 0, amount = 0;
    };
    std::string currency;
    double head = 0;
    std::vector<Line> lines;
};

// One setup's program, read back and found right before it is handed out.
struct Program {
    std::string setup;
    std::string file;  // "program-A.ngc"
    std::string text;
    std::size_t lines = 0;
};

struct ChatterPoint {
    double rpm = 0, stable_width = 0;
};

struct Cut : Notices {
    std::vector<SeatCut> seats;      // head order; seats that are cut
    std::vector<std::size_t> order;  // valve indices as machined
    double seconds_head = 0;
    std::optional<Estimate> estimate;
    std::vector<Program> programs;  // only those whose read-back passed
    std::vector<double> calm_rpm;
    std::vector<ChatterPoint> chatter;  // stable width over the speed range, for the chart
};

Cut plan(const job::Job& job, const hold::Hold& hold, const find::Find& find, const shape::Shape& shape);

}  // namespace seatwright::cut
