// Pages filled from top to bottom: headings, sentences, tables and drawings, a new page when one is full.
#pragma once

#include <string>
#include <vector>

#include "seatwright/papers/pdf.hpp"
#include "seatwright/papers/svg.hpp"

namespace seatwright::papers {

struct Column {
    double x = 0;  // mm from the left margin; for Anchor::end the right edge
    Anchor anchor = Anchor::start;
};

class Flow {
  public:
    // `title` stands on every page's head, `foot` at its foot beside the page's number.
    Flow(PaperSize paper, std::string title, std::string foot);

    double width() const { return paper_.width_mm - 2 * margin; }
    // Starts a new page unless `room` mm are left on this one.
    void ensure(double room);
    double left_over() const;  // mm on this page
    void down(double mm) { y_ += mm; }
    void heading(const std::string& words);
    // A sentence, wrapped to the page's width.
    void words(const std::string& text, double size = 2.7, Ink ink = Ink::line);
    void table_head(const std::vector<Column>& columns, const std::vector<std::string>& cells);
    void row(const std::vector<Column>& columns, const std::vector<std::string>& cells);
    // A drawing at `x` from the left margin; does not move on.
    void place(const Drawing& drawing, double x);
    Drawing& page() { return pages_.back(); }
    double left() const { return margin; }
    double y() const { return y_; }

    // Every page as an SVG document.
    std::vector<std::string> documents();

    static constexpr double margin = 15;

  private:
    void turn_page();
    PaperSize paper_;
    std::string title_, foot_;
    std::vector<Drawing> pages_;
    double y_ = 0;
};

}  // namespace seatwright::papers
