// drawing: a head out of a DXF drawing of its deck, as a head description. docs/drawing.md is the manual.
//
// Head frame: deck z = 0, +Z out of it, +X along the row, origin the first cylinder's centre (its bore where
// that is drawn, else the mean of its valves). Lengths mm, angles rad, standard uncertainties: u is what the
// decimals of the drawing leave, not how far a casting strays from it.
//
// Concentric circles of which the largest is several times the smallest are seats on guides; holes of one
// size in rows along the head are bolt holes; a circle that others stand within is a cylinder's bore. A
// leaning bore is drawn as an ellipse: its ratio gives the lean's size, and where the guide is drawn beside
// its seat (or the circle leans in space) also which way. What a plan view leaves open has no value and is
// asked for.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/base/units.hpp"
#include "seatwright/base/vec.hpp"
#include "seatwright/job/head.hpp"
#include "seatwright/survey/laid_over.hpp"
#include "seatwright/survey/survey.hpp"
#include "seatwright/words/notice.hpp"

namespace seatwright::drawing {

using survey::Figure;

// What a person knows that the drawing does not say.
struct Told {
    std::optional<LengthUnit> units;
    bool from_above = false;   // drawn as seen from the side of the cams: mirrored
    bool end_for_end = false;  // the first cylinder is at the other end
    // What a group is: "A" to "valve", "intake", "exhaust", "bolt", "plug", "other".
    std::map<std::string, std::string> names;
};

struct Valve {
    std::string id;  // "1I"
    int cylinder = 1;
    std::optional<job::Kind> kind;  // none: all seats are of one size
    Figure x, y, z, incline, cant;
    std::optional<double> bore;     // diameter of its smallest circle
    std::optional<double> gauge;    // where two circles bound a face, or one stands alone
    std::vector<double> diameters;  // of all its circles
    std::optional<double> lean;     // size of the lean its ellipse shows
    Vec2 lean_way = Vec2::Zero();   // its direction across the deck, up to its sign where incline is open
    double u_lean = 0;
    std::size_t group = 0;
};

struct Hole {
    std::string id;
    Figure x, y;
    double diameter = 0;
    survey::HoleKind kind = survey::HoleKind::other;
    std::size_t group = 0;
};

// Marks of like circles, and what they were taken for.
struct Group {
    std::string name;  // "A", "B", …
    std::vector<double> diameters;
    std::size_t count = 0;
    std::vector<std::string> layers;
    std::string what;  // what it was taken for: "intake valves", "bolt holes", "in part plugs"
    Sentence why;      // says nothing where nobody took it for anything
    bool sure = true;  // false: it could be something else
};

struct Drawing : Notices {
    std::string file, title;
    LengthUnit units = LengthUnit::mm;  // of the job that is made of it
    std::string drawn_in;               // "millimetres"
    std::vector<Valve> valves;          // by cylinder, then along X
    std::vector<Hole> holes;
    std::optional<double> bolt_diameter;
    std::optional<double> bore_diameter;  // of the cylinders, where drawn
    std::vector<Group> groups;
    std::vector<survey::Repeat> repeats;
    std::vector<survey::Missing> missing;
    int cylinders = 0;
    double u_place = 0;  // of every place and size
    double turned = 0;   // by how much the drawing was turned to lie along X, rad
    std::size_t curves = 0, hidden = 0, in_paper = 0, twice = 0;
    std::map<std::string, std::size_t> not_read;
};

// "A" … "Z", "AA" …
std::string group_name(std::size_t group);

// Error: what is wrong with the file, or that no head is in it, in one sentence.
Checked<Drawing> drawing_of(std::string_view bytes, const std::string& file, const Told& told);

// What is laid over another description of the head.
survey::Laid laid(const Drawing& drawing);

}  // namespace seatwright::drawing
