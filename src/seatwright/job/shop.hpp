// What the shop owns. Lengths mm, angles rad, forces N, torque N·mm, power W, speeds mm/s (axes) or m/min
// (surface), stiffness N/mm, moduli MPa, expansion 1/K.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/base/vec.hpp"
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

// How the tool head lets the pilot find the guide (working.md, "Float and spindle").
struct Float {
    enum class Kind { none, soft, commanded };
    Kind kind = Kind::none;
    // Commanded: a word of the control, "hand" (a halt asks for it), or for `centre` "self" (springs).
    std::string free, lock, centre;
};

// What Z zero belongs to: each program's cutter, or one reference with a length offset for each cutter.
enum class ZeroKept { program, offsets };
// Where the trim of the first seat is made: in the second file, or by moving Z0 at the control.
enum class TrimAt { file, control };
// Whether the control reads program files or a person types positions.
enum class Runs { file, hand };
enum class PilotChange { in_place, cutter_off };

struct Machine {
    std::string name;
    std::optional<double> travel_x, travel_y, travel_z;
    int x_sign = 1;
    int y_sign = 1;
    int z_sign = 1;
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
    ZeroKept zero = ZeroKept::program;
    TrimAt trim = TrimAt::file;
    Runs runs = Runs::file;
    std::optional<Float> tool_float;    // none: the shelf does not say, nothing is commanded
    bool lock_to_cut = true;            // the float is locked before the spindle turns
    double spin_up = 2, spin_down = 2;  // s
    // Readout X, Y from the setup's datum: where heads are loaded, where the first seat is measured.
    std::optional<Vec2> load_at, measure_at;
    PilotChange pilot_change = PilotChange::in_place;
    std::optional<double> ball;  // radius of the stylus ball that takes Z0 on the deck
};

enum class LoadSide { front, back };  // back = +Y

struct Fixture {
    std::string name;
    Range tilt;
    Range swing;
    double plumb_limit = 0;
    double step = 0.01 * rad_per_deg;  // finest change of tilt or swing a person can set
    std::optional<double> post_diameter;
    std::optional<double> clamp_force;
    std::optional<double> friction;
    bool captive = false;
    std::optional<LoadSide> load_from;
    std::optional<Range> post_span;
    std::optional<double> mass_max;
    std::vector<std::string> suits;  // layouts it is made for; empty = any
};

enum class PilotStyle { tapered, parallel };

struct Pilot {
    std::string name;
    PilotStyle style = PilotStyle::tapered;
    double diameter = 0;  // at the gauge line
    double taper = 0;     // diameter per length, ratio
    std::optional<double> free_length;
    double tip = 0;                  // diameter of the entering end
    bool turns_with_tool = false;    // its style is written "live"
    std::optional<double> reach;     // holder's face to the tip, slide out
    std::optional<double> gauge_at;  // holder's face to the gauge line, slide out
    std::optional<double> slide;     // how far it can be pushed back into the holder
    std::optional<double> seat_force;
    std::optional<double> length;  // over all
    std::optional<double> above;   // gauge line to the upper end, planted
    std::optional<int> count;      // how many the shop has
};

struct Cutter {
    std::string name;
    std::vector<Facet> facets;  // inside to outside
    Range gauge_diameter;
    int blades = 1;
    std::optional<double> drop;        // holder's face down to the gauge plane
    std::optional<double> lowest;      // gauge plane down to the lowest edge
    std::optional<double> body;        // diameter above the blade
    std::optional<double> bore_depth;  // how much of a planted pilot it swallows, from its lowest point up
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
    std::string top;  // words that bring the spindle to its highest place whatever Z0 is; empty = by hand
    enum class Names { long_names, eight_three } names = Names::long_names;
};

}  // namespace seatwright::job
