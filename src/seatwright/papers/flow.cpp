#include "seatwright/papers/flow.hpp"

#include <fmt/format.h>

#include "seatwright/papers/lettering.hpp"

namespace seatwright::papers {

namespace {

constexpr double row_height = 4.6;
constexpr double row_text = 2.6;
constexpr double foot_room = 9;

}  // namespace

Flow::Flow(PaperSize paper, std::string title, std::string foot)
    : paper_(paper), title_(std::move(title)), foot_(std::move(foot)) {
    turn_page();
}

void Flow::turn_page() {
    pages_.emplace_back(paper_.width_mm, paper_.height_mm, title_, "A page of measurement results");
    y_ = margin;
    if (pages_.size() > 1) {
        page().text({margin, y_ - 3}, title_, 2.7, Anchor::start, Ink::faint);
        y_ += 3;
    }
}

double Flow::left_over() const {
    return paper_.height_mm - margin - foot_room - y_;
}

void Flow::ensure(double room) {
    if (left_over() < room) turn_page();
}

void Flow::heading(const std::string& words) {
    ensure(17);
    y_ += 6.5;
    page().text({margin, y_}, words, 3.3, Anchor::start, Ink::line, true);
    y_ += 1.6;
    page().line({margin, y_}, {margin + width(), y_}, {Ink::line, 0.2});
    y_ += 1.4;
}

void Flow::words(const std::string& text, double size, Ink ink) {
    for (const auto& line : wrapped_lines(text, width(), size)) {
        ensure(1.5 * size);
        y_ += 1.45 * size;
        page().text({margin, y_}, line, size, Anchor::start, ink);
    }
}

void Flow::table_head(const std::vector<Column>& columns, const std::vector<std::string>& cells) {
    ensure(3 * row_height);
    y_ += row_height;
    for (std::size_t k = 0; k < cells.size() && k < columns.size(); ++k)
        page().text({margin + columns[k].x, y_}, cells[k], 2.3, columns[k].anchor, Ink::faint);
    y_ += 1.2;
    page().line({margin, y_}, {margin + width(), y_}, {Ink::faint, 0.15});
}

void Flow::row(const std::vector<Column>& columns, const std::vector<std::string>& cells) {
    ensure(row_height + 1);
    y_ += row_height;
    for (std::size_t k = 0; k < cells.size() && k < columns.size(); ++k)
        page().text({margin + columns[k].x, y_}, cells[k], row_text, columns[k].anchor);
}

void Flow::place(const Drawing& drawing, double x) {
    page().place(drawing, {margin + x, y_});
}

std::vector<std::string> Flow::documents() {
    std::vector<std::string> out;
    for (std::size_t i = 0; i < pages_.size(); ++i) {
        const double y = paper_.height_mm - margin + 2;
        pages_[i].line({margin, y - 4}, {margin + width(), y - 4}, {Ink::faint, 0.15});
        pages_[i].text({margin, y}, foot_, 2.3, Anchor::start, Ink::faint);
        pages_[i].text({margin + width(), y}, fmt::format("page {} of {}", i + 1, pages_.size()), 2.3,
                       Anchor::end, Ink::faint);
        out.push_back(pages_[i].document());
    }
    return out;
}

}  // namespace seatwright::papers
