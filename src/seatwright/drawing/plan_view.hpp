// The drawing as it is seen from above: every block set where it belongs, what does not show left out,
// lengths in mm.
#pragma once

#include <string>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/drawing/sheet.hpp"

namespace seatwright::drawing {

// A circle or ellipse seen from above: semi-axes a >= b, `along` the direction of the longer one (of a circle
// +X). Of a circle tilted in space `tilt` and `normal` say how; of an ellipse drawn flat they are those of
// the flat curve.
struct Ring {
    Vec2 centre = Vec2::Zero();
    double a = 0, b = 0;
    Vec2 along = Vec2::UnitX();
    double height = 0;            // of its centre, as drawn
    Vec3 normal = Vec3::UnitZ();  // of its plane in space, Z >= 0
    bool round_in_space = false;  // a circle about that normal
    std::string layer;
    int line = 0;
    bool round() const;  // a circle as seen
};

struct View {
    std::vector<Ring> rings;
    std::size_t hidden = 0;     // curves on layers frozen or off
    std::size_t edge_on = 0;    // curves seen edge on
    std::size_t elsewhere = 0;  // inserts of other files
    double scale = 1;           // mm of a drawing unit
};

// mm of the unit with that $INSUNITS number; 0 if it is none a head is drawn in. `name`: what it is called.
double mm_of_unit(int unit);
const char* name_of_unit(int unit);

// Error: inserts within inserts beyond `deepest`, a block within itself, more than `most_rings` curves.
Checked<View> view_of(const Sheet& sheet, double mm, const std::string& file);

inline constexpr int deepest = 16;
inline constexpr std::size_t most_rings = 200'000, most_inserts = 1'000'000;

}  // namespace seatwright::drawing
