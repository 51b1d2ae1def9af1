// Which marks are seats on guides, in which cylinder each stands, and how the row lies on the sheet.
#pragma once

#include <optional>
#include <vector>

#include "seatwright/drawing/drawing.hpp"
#include "seatwright/drawing/marks.hpp"

namespace seatwright::drawing {

struct Cylinder {
    std::vector<std::size_t> valves;  // marks
    Vec2 centre = Vec2::Zero();       // on the sheet
    std::optional<double> bore;       // diameter, where drawn
};

struct Layout {
    std::vector<Cylinder> cylinders;  // along the row
    double turn = 0;                  // of the row on the sheet against the sheet's X, rad
    bool by_bores = false;            // each cylinder's bore is drawn
    bool row_shown = false;           // two cylinders or more say how the row lies
    bool takes_in_weak = false;       // seats hardly larger than their guides were taken for seats
};

// The guide's bore of a mark: its smallest circle, where that stands with others or beside.
std::optional<double> guide_bore(const Marks& marks, std::size_t m);

// `names`: what a person said each group is, empty where nothing. None: no seat on a guide is drawn.
std::optional<Layout> layout_of(const Marks& marks, const std::vector<std::string>& names);

bool names_a_valve(const std::string& name);

}  // namespace seatwright::drawing
