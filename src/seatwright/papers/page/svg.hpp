// The one drawing code: a small builder of SVG 1.1 text for papers and screen alike.
//
// A drawing is in millimetres of paper: width × height, origin top left, y down, as SVG has it. Colours are
// never given as values but by role, so that the light sheet, the dark sheet and print each choose; every
// shape carries the class `ink`, `touch`, `warn`, `faint`, `fill-…`. Text is text (searchable in the PDF),
// never outlines.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "seatwright/base/vec.hpp"

namespace seatwright::papers {

enum class Ink {
    line,   // graphite: what is there
    faint,  // light graphite: construction, grid, hatching
    touch,  // ink-blue: what was touched, chosen, planned
    warn,   // rust: what needs attention
    paper   // the ground, to blank out what lies beneath
};

enum class Anchor { start, middle, end };

struct Stroke {
    Ink ink = Ink::line;
    double width = 0.25;      // mm
    std::string_view dash{};  // SVG dash array in mm, "1.5 1"
};

class Drawing {
  public:
    // Paper size in mm; `title` and `description` become the accessible <title> and <desc>.
    Drawing(double width, double height, std::string_view title, std::string_view description);

    double width() const { return width_; }
    double height() const { return height_; }

    void line(Vec2 a, Vec2 b, Stroke stroke = {});
    void polyline(const std::vector<Vec2>& points, Stroke stroke = {}, bool closed = false);
    void polygon(const std::vector<Vec2>& points, Ink fill, double opacity, Stroke stroke = {});
    void circle(Vec2 centre, double radius, Stroke stroke = {});
    void disc(Vec2 centre, double radius, Ink fill, double opacity = 1);
    // Semi-axes a, b; `turn` of the a axis from +x, clockwise on paper (y is down), rad.
    void ellipse(Vec2 centre, double a, double b, double turn, Stroke stroke = {});
    void rect(Vec2 corner, double width, double height, Stroke stroke = {});
    void text(Vec2 at, std::string_view words, double size = 3.2, Anchor anchor = Anchor::start,
              Ink ink = Ink::line, bool bold = false, double turn_deg = 0);
    // Dimension line from a to b set off by `offset` (mm of paper, to the left of a→b when positive), with
    // ticks, witness lines and its words above.
    void dimension(Vec2 a, Vec2 b, double offset, std::string_view words, double size = 3.0);
    // Slanted tick and leader from `from` to words at `to`.
    void leader(Vec2 from, Vec2 to, std::string_view words, double size = 3.0);
    // Raw marks for the workbench: the next shapes form a group with that id and data-name, until
    // end_group().
    void begin_group(std::string_view id, std::string_view data_name = {});
    void end_group();
    // Another drawing placed at `at`, scaled by `scale`.
    void place(const Drawing& other, Vec2 at, double scale = 1);

    // The finished SVG document; `embedded` leaves out the XML declaration and fixed size for use inside a
    // page.
    std::string document() const;
    std::string embedded() const;

  private:
    double width_, height_;
    std::string title_, description_;
    std::string body_;
    int open_groups_ = 0;
};

}  // namespace seatwright::papers
