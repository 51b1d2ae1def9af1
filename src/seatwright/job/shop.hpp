// What the shop owns. Lengths mm, angles rad, forces N, torque N·mm, power W, speeds mm/s (axes) or m/min
// (surface), stiffness N/mm, moduli MPa, expansion 1/K.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/job/form.hpp"

namespace seatwright::job {

struct Range {
    double low = 0;
    double high = 0;
    bool contains(double v) const { return low <= v && v <= high; }
};

struct Mode {
    double frequency = 0;  // Hz
    double stiffness = 0;  // N/mm
    double damping = 0;    // ratio
};

struct Machine {
    std::string name;
    std::optional<double> travel_x, travel_y, travel_z;
    int x_sign = 1;
    int y_sign = 1;
    double resolution = 0.001;  // readout step
    std::optional<double> rpm_min, rpm_max;
    double rpm_step = 1;
    std::optional<double> power;            // W
    std::optional<double> torque;           // N·mm
    std::optional<double> rapid;            // mm/s
    std::optional<double> accel;            // mm/s2
    std::optional<double> float_stiffness;  // N/mm
    std::optional<double> axial_stiffness;  // N/mm
    std::optional<Mode> mode;
};

enum class LoadSide { front, back };  // back = +Y

struct Fixture {
    std::string name;
    Range tilt;
    Range swing;
    double plumb_limit = 0;
    std::optional<double> post_diameter;
    std::optional<double> clamp_force;
    std::optional<double> friction;
    bool captive = false;
    std::optional<LoadSide> load_from;
    std::optional<Range> post_span;
    std::optional<double> mass_max;
    std::vector<std::string> suits;  // layouts it is made for; empty = any
};

enum class PilotStyle { fixed, live };

struct Pilot {
    std::string name;
    PilotStyle style = PilotStyle::fixed;
    double diameter = 0;  // at the gauge line
    double taper = 0;     // diameter per length, ratio
    std::optional<double> free_length;
    double tip = 0;  // diameter of the entering end
};

struct Cutter {
    std::string name;
    std::vector<Facet> facets;  // inside to outside
    Range gauge_diameter;
    int blades = 1;
};

struct Material {
    std::string name;
    std::optional<double> kc11;  // N/mm2
    std::optional<double> mc;
    std::optional<Range> speed;     // m/min
    std::optional<Range> feed;      // mm per turn
    std::optional<double> modulus;  // MPa
    std::optional<double> poisson;
    std::optional<double> expansion;  // 1/K
    double normal_ratio = 0.5;
};

// The shop's prices, if it wants an estimate; amounts in `currency`.
struct Rates {
    std::string currency;
    double head = 0, valve = 0, guide = 0, insert = 0;
};

// How the shop writes programs (RS-274/NGC, ISO 6983-1 family).
struct Dialect {
    std::string name = "plain";
    int decimals_mm = 4;
    int decimals_inch = 6;  // 5 would round off more than 0.1 um
    bool line_numbers = false;
    enum class Comment { parentheses, semicolon } comment = Comment::parentheses;
    bool dwell_in_milliseconds = false;
    bool canned_cycles = false;
    std::string tool_change = "M6";
    std::string program_end = "M30";
    std::string file_ending = "ngc";
};

}  // namespace seatwright::job
