// Points of a scan in its drawings.
#pragma once

#include <vector>

#include "seatwright/papers/page/svg.hpp"
#include "seatwright/scan/cylinder.hpp"

namespace seatwright::brought {

// As small dots, of very many some.
void draw_dots(papers::Drawing& drawing, std::vector<Vec2> at, papers::Ink ink);

inline constexpr double scan_words = 2.6;  // mm of paper, the size of what is lettered

inline Vec3 on_axis(const scan::Cylinder& wall, double along) {
    return wall.at + along * wall.axis;
}

}  // namespace seatwright::brought
