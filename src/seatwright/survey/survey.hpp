// survey: a head nobody has a drawing of, from readings taken at the machine with pilot, ball, stylus and
// angle sensor, as a head description with the uncertainty of every figure. docs/survey.md is the manual.
//
// Head frame: deck z = 0, +Z out of it, +X along the row from the first cylinder on, origin the first
// cylinder's centre (the mean of its guides). Lengths mm, angles rad, standard uncertainties.
//
// All setups, the holes' places, the guides' places and directions and the sensor's zero are one weighted
// least-squares solution (model.hpp, solve.hpp). A figure the readings leave open has no value: its
// uncertainty would be beyond `open_place` or `open_lean`. Readings that contradict the others are set aside,
// named and kept.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/base/vec.hpp"
#include "seatwright/survey/readings.hpp"
#include "seatwright/words/notice.hpp"

namespace seatwright::survey {

// Beyond these a figure is open, whatever makes it so.
inline constexpr double open_place = 0.5, open_lean = 0.5 * rad_per_deg;
// What a survey is for: an uncertainty relative to these says how near a figure is to being good.
inline constexpr double aim_place = 0.05, aim_lean = 0.03 * rad_per_deg;

struct Figure {
    std::optional<double> value;  // none: left open
    double u = 0;
};

struct Valve {
    std::string id;
    GuideName name;
    Figure x, y, z, incline, cant;
    Mat3 covariance = Mat3::Zero();    // of x, y, z
    std::optional<std::string> setup;  // where the spindle was over it
    std::optional<double> seat_angle, gauge_diameter;
    bool placed() const { return x.value && y.value && z.value; }
    bool whole() const { return placed() && incline.value && cant.value; }
};

enum class HoleKind { bolt, plug, other };
struct Hole {
    std::string id;
    Figure x, y;
    std::optional<double> diameter;
    HoleKind kind = HoleKind::bolt;
};

struct Setup {
    std::string name;
    Figure tilt, swing, yaw;
    std::optional<double> residual;  // rms of its places, mm; none if it has none
};

// A reading that was not used.
struct Aside {
    int line = 0;
    std::string key;
    Sentence what, why;
};

// Something that repeats over the head, offered.
struct Repeat {
    std::string what;             // "bore spacing", "alternate order mirrored", "like valves I", …
    std::optional<double> value;  // mm
    double residual = 0;          // the largest left over, mm
    double chance = 1;            // that places by chance agree as well
    Sentence words;               // a sentence
};

// A reading to take next.
struct Missing {
    Sentence what, why, next;
    double help = 0;  // by how much it lowers the valves' worst relative uncertainty, on average
};

// The mean of a size over the guides of a kind.
struct SizeFound {
    SizeOf what = SizeOf::bore;
    job::Kind kind = job::Kind::intake;
    double value = 0, u = 0;
    std::size_t count = 0;
};

struct Survey : Notices {
    Readings readings;
    std::vector<Valve> valves;  // head order: by cylinder, then x
    std::vector<Hole> holes;
    std::vector<Setup> setups;
    Figure sensor_zero;  // what the sensor reads too much in its own sign
    std::vector<Aside> aside;
    std::vector<Repeat> repeats;
    std::vector<Missing> missing;  // what helps most first
    std::vector<SizeFound> sizes;
    double chi2 = 0, dof = 0;
    std::optional<double> p_value;
    double scatter = 1;      // uncertainties were made so much larger: readings scatter beyond their sds
    double worst_plumb = 0;  // of the guides the spindle was over, rad
    bool mirrored = false;   // alternate order, if the repeat of cylinders is one
    bool whole() const;      // every valve's five figures are known
};

// Faults: readings that contradict each other beyond what one bad in ten would do, each with its line and
// key.
Checked<Survey> survey(const Readings& readings);

}  // namespace seatwright::survey
