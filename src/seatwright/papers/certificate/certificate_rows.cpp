#include "seatwright/papers/certificate/certificate_rows.hpp"

namespace seatwright::papers {

namespace {

constexpr double note_height = 4.6;  // mm
constexpr double cell_size = 2.6, head_size = 2.3;

void set(Pages& paper, const std::vector<Column>& columns, const std::vector<std::string>& cells, double size,
         Ink ink) {
    for (std::size_t k = 0; k < cells.size() && k < columns.size(); ++k)
        paper.page().text({paper.left() + columns[k].x, paper.y()}, cells[k], size, columns[k].anchor, ink);
}

}  // namespace

void row_of_heads(Pages& paper, const std::vector<Column>& columns, const std::vector<std::string>& cells) {
    paper.need(3 * note_height);
    paper.gap(note_height);
    set(paper, columns, cells, head_size, Ink::faint);
    paper.gap(1.2);
    const Vec2 left(paper.left(), paper.y());
    paper.page().line(left, left + Vec2(paper.width(), 0), {Ink::faint, 0.15});
}

void row_of_cells(Pages& paper, const std::vector<Column>& columns, const std::vector<std::string>& cells) {
    paper.need(note_height + 1);
    paper.gap(note_height);
    set(paper, columns, cells, cell_size, Ink::line);
}

void in_the_middle(Pages& paper, const Drawing& drawing, double above) {
    paper.need(above + drawing.height());
    paper.gap(above);
    paper.page().place(drawing, {paper.left() + (paper.width() - drawing.width()) / 2, paper.y()});
    paper.gap(drawing.height());
}

}  // namespace seatwright::papers
