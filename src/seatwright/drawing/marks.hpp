// Rings that stand about one centre are one mark: a hole, a plug with its counterbore, a seat on its guide.
// Marks of like rings are a group, which is what a person is shown and names.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/drawing/plan_view.hpp"

namespace seatwright::drawing {

struct Mark {
    Vec2 at = Vec2::Zero();
    std::vector<Ring> rings;  // of different sizes, small to large
    double spread = 0;        // how far their centres lie apart, mm
    std::size_t group = 0;
    bool drawn_twice = false;                                // a ring of it stands there more than once
    double smallest() const { return 2 * rings.front().a; }  // diameters
    double largest() const { return 2 * rings.back().a; }
};

// A guide's bore that is drawn beside its seat, shifted along the way the two lean.
struct Shifted {
    Ring bore;
    Vec2 off = Vec2::Zero();  // from the seat's centre to it
};

// A circle that others stand within: a cylinder bore, a chamber's edge, the head's outline.
struct Outline {
    Ring ring;
    std::vector<std::size_t> within;  // marks
};

struct Marks {
    std::vector<Mark> marks;
    std::vector<std::vector<Shifted>> shifted;  // of each mark
    std::vector<Outline> outlines;              // small to large
    std::size_t groups = 0;
};

inline constexpr std::size_t most_marks = 20'000;

// `near`: rings whose centres are no further apart stand about one centre, mm. Error: too many to be a head.
Checked<Marks> marks_of(const View& view, double near, const std::string& file);

inline constexpr double near_centre = 0.02;  // mm: far below what features of a head are apart

}  // namespace seatwright::drawing
