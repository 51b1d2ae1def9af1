// Plain ASCII DXF of release 12's level, lines and words only, for whoever makes a blade: true size,
// millimetres.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/base/vec.hpp"
#include "seatwright/shape/shape.hpp"

namespace seatwright::papers {

// Entities in the order they are added; no header, no tables, no blocks: every reader of the format must take
// that. x to the right, y up, mm.
class Dxf {
  public:
    void line(std::string_view layer, Vec2 a, Vec2 b);
    // Plain ASCII words; anything else becomes '?'. Degree and diameter signs are written %%d and %%c, as the
    // format has them.
    void text(std::string_view layer, Vec2 at, double height, std::string_view words);
    std::string document() const;

  private:
    std::string body_;
};

// The form to order at true size about its axis (x = radius, the axis at x = 0): layers EDGE (both sides),
// AXIS, SIZES. None without forms.
std::optional<std::string> dxf_form_to_order(const job::Job& job, job::Kind kind);

}  // namespace seatwright::papers
