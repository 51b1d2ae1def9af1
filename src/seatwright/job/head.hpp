// The casting: valves, bolt holes, obstacles. All in the head frame of this very head, that is after pattern
// expansion and after `mirror` has been applied. Lengths mm, angles rad, mass kg.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/base/vec.hpp"

namespace seatwright::job {

enum class Kind { intake, exhaust };
inline constexpr std::array<Kind, 2> both_kinds{Kind::intake, Kind::exhaust};

// One value for each kind of valve.
template <class T>
struct PerKind {
    T intake{};
    T exhaust{};
    const T& operator[](Kind kind) const { return kind == Kind::intake ? intake : exhaust; }
    T& operator[](Kind kind) { return kind == Kind::intake ? intake : exhaust; }
    bool operator==(const PerKind&) const = default;
};

struct Valve {
    std::string id;
    int cylinder = 1;
    Kind kind = Kind::intake;
    Vec3 seat = Vec3::Zero();  // centre of the gauge circle, head frame
    double incline = 0;        // guide axis in the Y-Z view, positive towards +Y
    double cant = 0;           // guide axis in the X-Z view, positive towards +X
    int pattern = -1;          // which entry of head.pattern.valve gives its z and incline; -1: its own
    Vec3 axis() const { return guide_axis(incline, cant); }
};

// A bore no cutter may touch: it starts at `centre` and runs into the casting along its axis.
struct Obstacle {
    std::string name;
    Vec3 centre = Vec3::Zero();
    double diameter = 0;
    double incline = 0, cant = 0;  // of the axis, directed out of the chamber side like a guide's
    std::optional<double> length;  // from `centre` into the casting; none = through it
    Vec3 axis() const { return guide_axis(incline, cant); }
};

enum class Mirror { none, x, y };

struct Head {
    std::string name;
    std::string material;
    std::optional<double> mass;
    Mirror mirror = Mirror::none;
    std::optional<std::string> datum;  // valve id
    std::vector<Valve> valves;         // head order: ascending x, ties (within 1e-6 mm) by y
    std::vector<Vec2> bolt_holes;      // in the order of the file
    std::optional<double> bolt_hole_diameter;
    std::optional<std::array<std::size_t, 2>> posts;  // indices into bolt_holes
    std::vector<Obstacle> obstacles;
    int cylinders = 0;                    // of the pattern; 0 = explicit valves only
    std::optional<double> bore_spacing;   // of the pattern
    std::optional<double> bore_diameter;  // cylinder bore, for the bore-edge clash
    std::optional<double> chamber_area;   // mm2 of chamber opening at the deck, for a deck cut's volume
    std::string layout;                   // free word matched with Fixture::suits; empty = any
    // Keys whose figures a question or a template made up, each with all below it: "head.bolt_holes",
    // "head.pattern.valve[0].x", "guide.intake.bore".
    std::vector<std::string> assumed;
    // Likewise: keys whose figures were read at the machine or off a drawing, and those taken from a casting.
    std::vector<std::string> surveyed, of_casting;

    // Index of the valve of that id, if there is one.
    std::optional<std::size_t> index_of(const std::string& id) const;
    // Whether the figure of that key was made up.
    bool made_up(std::string_view key) const;
    // Whether one of these keys is that key or a table or list it stands in.
    static bool names(const std::vector<std::string>& keys, std::string_view key);
};

}  // namespace seatwright::job
