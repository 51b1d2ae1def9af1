// scan: a head out of a measured surface, as a head description with the uncertainty of every figure.
// docs/scan.md is the manual.
//
// Head frame: deck z = 0, +Z out of it, +X along the row, origin the first cylinder's centre (the mean of its
// valves). Lengths mm, angles rad, standard uncertainties: of the scanner's noise, taken as it goes together,
// not of its scale or of the casting.
//
// Features are found on some of the points and fitted to all of them (features.hpp). Nothing is invented: a
// guide seen over less than 10 mm, a third of a turn, or half a turn with no seat above it gives no axis and
// is named in `missing`.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/base/units.hpp"
#include "seatwright/base/vec.hpp"
#include "seatwright/job/head.hpp"
#include "seatwright/scan/cloud.hpp"
#include "seatwright/scan/cylinder.hpp"
#include "seatwright/scan/watch.hpp"
#include "seatwright/survey/laid_over.hpp"
#include "seatwright/survey/survey.hpp"
#include "seatwright/words/notice.hpp"

namespace seatwright::scan {

using survey::Figure;

struct FacetFound {
    double angle = 0, u_angle = 0;
    double inner = 0, outer = 0;                // diameters
    double inner_height = 0, outer_height = 0;  // along the axis from the middle of the wall seen
    bool face = false;
};

struct Valve {
    std::string id;
    int cylinder = 1;
    std::optional<job::Kind> kind;   // none: all seats are of one size
    Figure x, y, z, incline, cant;   // z and with it the place along the axis: of the gauge circle
    Mat3 covariance = Mat3::Zero();  // of x, y, z
    double z_taken = 0;              // where z is open: at which height on its axis x and y are
    Figure bore;                     // diameter; of a pin that of the pin
    bool pin = false;                // what is seen stands above the seat: a pin in the guide
    Cylinder wall;                   // what is seen of it, in the head frame
    Figure gauge, seat_angle;
    double length = 0, arc = 0;       // of the guide (or pin) seen, mm, rad
    double points = 0, sd = 0;        // on it
    std::optional<double> off_guide;  // by how much the seat stands beside its guide
    std::vector<FacetFound> facets;   // inside to outside
    bool face_in_doubt = false;
    std::string confirmed_by;  // who looked at it over its points; empty: nobody said so
};
// A seat that stands further beside its guide, mm, is worth a word.
inline constexpr double worth_saying_off = 0.1;

struct Hole {
    std::string id;
    Figure x, y, diameter;
    survey::HoleKind kind = survey::HoleKind::other;
    double length = 0, arc = 0, lean = 0;
    Figure incline, cant;
    Cylinder wall;          // in the head frame
    bool in_doubt = false;  // whether it is what it was taken for
    std::string confirmed_by;
};
// The mean over the bolts' holes; open where there are none.
Figure bolt_diameter_of(const std::vector<Hole>& holes);

// A guide that is there and gives no axis, or that the others' pattern says is there and is not seen.
struct NotSeen {
    std::string id;
    Vec2 at = Vec2::Zero();  // about where, in the head frame
    double length = 0, arc = 0;
    bool expected = false;  // only by the pattern
    Cylinder wall;          // what is seen of it
};

// The edge of an opening in the deck over valves: a chamber, or a valve's own well.
struct Chamber {
    int cylinder = 1;
    std::vector<std::string> valves;
    std::vector<Vec2> outline;  // its corners in order, in the head frame
    double area = 0;            // mm²
    double u = 0;               // of a place of the edge, mm
};

// The way from the cloud's own coordinates into the head frame.
struct Placed {
    double mm = 1;  // a unit of the file
    Mat3 turn = Mat3::Identity();
    Vec3 shift = Vec3::Zero();
    Vec3 at(const Point& p) const { return turn * (mm * p.vec()) + shift; }
};

struct Scan : Notices {
    std::string file, title, format;
    LengthUnit units = LengthUnit::mm;  // of the file, and of the job that is made of it
    bool unit_told = false;             // by a person; else inferred from sizes
    std::vector<Valve> valves;          // by cylinder, then along X
    std::vector<Hole> holes;
    Figure bolt_diameter;
    std::vector<survey::Repeat> repeats;
    std::vector<survey::Missing> missing;
    std::vector<NotSeen> not_seen;
    std::vector<Chamber> chambers;
    std::vector<Cylinder> not_taken;  // round walls that may be grooves, in the head frame
    Placed placed_by;
    int cylinders = 0;
    double deck_rms = 0, deck_points = 0;
    double points = 0, inliers = 0;  // used; on the deck or a feature
    double not_numbers = 0, repeated = 0;
    double seconds = 0;         // from the file to here, where somebody measured it
    double noise_together = 1;  // uncertainties of the guides' places were made so much larger
    bool placed() const;        // a valve's five figures are known
};

// What a person knows that the file does not say.
struct Told {
    std::optional<LengthUnit> units;
    bool end_for_end = false;  // the first cylinder is at the other end
};

// Error: what is wrong with the file, or that no head is in it, in one sentence. Throws what the watch
// throws.
Checked<Scan> scan_of(std::string_view bytes, const std::string& file, const Told& told,
                      const Watch& watch = {});
Checked<Scan> scan_of(const Cloud& cloud, const std::string& file, const Told& told, const Watch& watch = {});

// What is laid over another description of the head.
survey::Laid laid(const Scan& scan);

}  // namespace seatwright::scan
