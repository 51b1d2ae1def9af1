#include "seatwright/papers/page/pages.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/papers/page/lettering.hpp"

namespace seatwright::papers {

namespace {

constexpr double foot_room = 8;        // mm for the foot line
constexpr double small_ratio = 0.834;  // letters of what is only looked up, of those of sentences
constexpr double line_ratio = 1.43;    // from line to line, of the letters' size
constexpr double foot_size = 2.6;

}  // namespace

Pages::Pages(PaperSize paper, PageTitle title, double words)
    : paper_(paper), title_(std::move(title)), words_(words) {
    new_page();
}

double Pages::left_over() const {
    return paper_.height_mm - margin - foot_room - y_;
}

void Pages::new_page() {
    pages_.emplace_back(paper_.width_mm, paper_.height_mm, title_.title, title_.detail);
    const bool first = pages_.size() == 1;
    const double size = first ? 5.5 : 3.6;
    y_ = margin + (first ? 4 : 2);
    const std::string& title = first || title_.later.empty() ? title_.title : title_.later;
    page().text({margin, y_}, fitted(title, width(), size, Face::bold), size, Anchor::start, Ink::line, true);
    if (first) {
        y_ += 5;
        page().text({margin, y_}, fitted(title_.detail, width(), 3.0), 3.0, Anchor::start, Ink::line);
    }
    y_ += 2;
    page().line({margin, y_}, {paper_.width_mm - margin, y_}, {Ink::line, 0.5});
    y_ += 3;
}

bool Pages::at_top() const {
    return y_ < margin + 13;  // under the title of a page
}

void Pages::need(double height) {
    if (left_over() < height) new_page();
}

void Pages::gap(double height) {
    y_ += height;
}

void Pages::heading(const std::string& words, double with) {
    const double size = std::min(3.8, 1.27 * words_), above = at_top() ? 0 : 0.67 * words_;
    need(std::max(6 * words_, 3.1 * words_ + with));
    y_ += above + 1.73 * words_;
    page().text({margin, y_}, fitted(words, width(), size, Face::bold), size, Anchor::start, Ink::line, true);
    y_ += 0.73 * words_;
}

void Pages::sentence(const std::string& words, const SentenceStyle& style) {
    const double indent = style.mark.empty() ? 0 : 1.5 * words_;
    const double size = style.small_print ? std::max(least_size, small_ratio * words_) : words_;
    const double line_to_line = size * line_ratio;
    bool first = true;
    for (const auto& line : wrapped_lines(words, width() - indent, size)) {
        need(line_to_line + 1);
        y_ += line_to_line;
        if (first && !style.mark.empty())
            page().text({margin, y_}, style.mark, size, Anchor::start, style.ink, true);
        page().text({margin + indent, y_}, line, size, Anchor::start, style.ink);
        first = false;
    }
}

void Pages::check(const std::string& words) {
    const double line_to_line = words_ * line_ratio, indent = 2 * words_;
    const auto lines = wrapped_lines(words, width() - indent, words_);
    need(line_to_line * static_cast<double>(lines.size()) + 1);
    page().rect({margin, y_ + line_to_line - 0.9 * words_}, words_, words_, {Ink::line, 0.3});
    for (const auto& line : lines) {
        y_ += line_to_line;
        page().text({margin + indent, y_}, line, words_);
    }
    y_ += 0.27 * words_;
}

void Pages::row(const std::vector<Drawing>& drawings, double between) {
    double tallest = 0;
    for (const auto& drawing : drawings) tallest = std::max(tallest, drawing.height());
    need(tallest + 1);
    double x = margin;
    for (const auto& drawing : drawings) {
        page().place(drawing, {x, y_});
        x += drawing.width() + between;
    }
    y_ += tallest + 1;
}

std::vector<std::string> Pages::documents() const {
    std::vector<std::string> out;
    for (std::size_t p = 0; p < pages_.size(); ++p) {
        Drawing sheet = pages_[p];
        const double y = paper_.height_mm - margin;
        sheet.line({margin, y - 4.2}, {paper_.width_mm - margin, y - 4.2}, {Ink::line, 0.25});
        const std::string number = fmt::format("page {} of {}", p + 1, pages_.size());
        sheet.text({margin, y},
                   fitted(title_.footer, width() - words_width(number, foot_size) - 4, foot_size), foot_size,
                   Anchor::start, Ink::faint);
        sheet.text({paper_.width_mm - margin, y}, number, foot_size, Anchor::end, Ink::faint);
        out.push_back(sheet.document());
    }
    return out;
}

}  // namespace seatwright::papers
